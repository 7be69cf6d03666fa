/** How near two pronunciations are: edits between phones, cheaper within a class. Costs are rules of thumb (common practice, no source). */

const CLASSES: readonly (readonly string[])[] = [
  ["AA", "AO", "AH", "OW", "AW"],
  ["IH", "IY", "EH", "EY", "AE", "AY"],
  ["UW", "UH", "ER", "OY"],
  ["P", "B", "T", "D", "K", "G"],
  ["F", "V", "TH", "DH", "S", "Z", "SH", "ZH", "HH"],
  ["M", "N", "NG"],
  ["L", "R", "W", "Y"],
  ["CH", "JH"],
];
const classOf = new Map(
  CLASSES.flatMap((phones, index) => phones.map((phone) => [phone, index] as const)),
);
const isVowel = (phone: string): boolean => (classOf.get(phone) ?? 9) < 3;

function swap(a: string, b: string): number {
  if (a === b) return 0;
  if (classOf.get(a) === classOf.get(b)) return 0.4;
  return isVowel(a) && isVowel(b) ? 0.7 : 1.1;
}
const DROP_VOWEL = 0.9;
const DROP_CONSONANT = 0.7;
const drop = (phone: string): number => (isVowel(phone) ? DROP_VOWEL : DROP_CONSONANT);

/** Cost of turning one row of phones into the other; `limit` or more when they are farther apart. */
export function soundDistance(a: readonly string[], b: readonly string[], limit: number): number {
  let row = [0];
  for (const phone of b) row.push((row[row.length - 1] ?? 0) + drop(phone));
  for (const from of a) {
    const next = [(row[0] ?? 0) + drop(from)];
    let least = next[0] ?? 0;
    b.forEach((to, j) => {
      const cost = Math.min(
        (row[j] ?? 0) + swap(from, to),
        (row[j + 1] ?? 0) + drop(from),
        (next[j] ?? 0) + drop(to),
      );
      next.push(cost);
      least = Math.min(least, cost);
    });
    if (least >= limit) return limit;
    row = next;
  }
  return Math.min(limit, row[row.length - 1] ?? limit);
}
