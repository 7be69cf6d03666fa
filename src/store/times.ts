/** Times in the tables are UTC with milliseconds, so that they compare as text. */
export function utc(time: string): string {
  const at = new Date(time);
  if (Number.isNaN(at.getTime())) throw new RangeError(`not a time: ${time}`);
  return at.toISOString();
}
