/** Ids made by us: milliseconds in base 36 and eight random letters; 17 characters, sorted by time. */
import { randomInt } from "node:crypto";

const LETTERS = 36;
const RANDOM_LETTERS = 8;

export function newId(): string {
  const time = Date.now().toString(LETTERS).padStart(9, "0");
  const random = Array.from({ length: RANDOM_LETTERS }, () => randomInt(LETTERS).toString(LETTERS));
  return time + random.join("");
}
