/** Rules for digits said one by one, made of the number words that reading knows. */
import { vocabulary } from "../language/index.js";

const { ONES, ZEROS } = vocabulary;
/** Spelled so, never said so. */
const LETTER_O = "o";

/** `<digit>`: one to nine, and the ways to say zero. */
export function numberRules(): string {
  const zeros = ZEROS.split(", ").filter((word) => word !== LETTER_O);
  return `
<zero> = ${zeros.map((word, index) => `/${index < 2 ? 4 : 1}/ ${word}`).join(" | ")} ;
<digit> = /9/ (${Object.keys(ONES).join(" | ")}) | /1/ <zero> ;
`;
}
