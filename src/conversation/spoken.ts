/** The next size as a sentence for the ear: short, figures apart. */

const PARTS: Readonly<Record<string, string>> = {
  "1/2": "a half",
  "1/4": "a quarter",
  "3/4": "three quarters",
};
const UNDER: Readonly<Record<string, readonly [string, string]>> = {
  "8": ["eighth", "eighths"],
  "16": ["sixteenth", "sixteenths"],
  "32": ["thirty second", "thirty seconds"],
};

function part(over: string, under: string): string {
  const known = PARTS[`${over}/${under}`];
  if (known !== undefined) return known;
  const [one, many] = UNDER[under] ?? [`over ${under}`, `over ${under}`];
  return over === "1" ? `one ${one}` : `${over} ${many}`;
}

/** `line` as it is written: `» Next: bar 22 × 36 × 180 mm`. */
export function spokenLine(line: string): string {
  return line
    .replace(/^[»⚠\s]+/u, "")
    .replace(
      /(\d+) (\d+)\/(\d+)/g,
      (_, whole: string, over: string, under: string) => `${whole} and ${part(over, under)}`,
    )
    .replace(
      /(?<![\d ])\s?(\d+)\/(\d+)/g,
      (_, over: string, under: string) => ` ${part(over, under)}`,
    )
    .replace(/Next:\s*/, "Next. ")
    .replace(/Ø\s*/g, ", diameter, ")
    .replace(/\s*×\s*/g, ", by ")
    .replace(/(\d)\s*mm\b/g, "$1, millimetres")
    .replace(/(\d|half|quarters?|eighths?|sixteenths?|seconds?)\s*(?:in\b|″|")/g, "$1, inches")
    .replace(/°C/g, " degrees")
    .replace(/°F/g, " degrees Fahrenheit")
    .replace(/ · /g, ". ")
    .replace(/\s+,/g, ",")
    .replace(/\s+/g, " ")
    .trim()
    .slice(0, 300);
}
