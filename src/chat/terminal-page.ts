/** A reply as a terminal shows it: its lines, and its buttons numbered in one line below. */
import type { Button, ReplyBody } from "../logbook/index.js";
import { plainWords } from "./plain-words.js";

/** Marks the line that stands alone where there is no bold. */
const BOLD_MARK = "» ";

/** Text of one reply without a line end; `firstNumber` is the number of its first button. */
export function terminalPage(body: ReplyBody, colour: boolean, firstNumber = 1): string {
  const lines = body.lines.map(({ text, bold }) => {
    const words = plainWords(text);
    if (bold !== true) return words;
    return colour ? `\u001b[1m${words}\u001b[22m` : `${BOLD_MARK}${words}`;
  });
  const buttons = buttonsOf(body).map(
    (button, index) => `[${firstNumber + index}] ${plainWords(button.label)}`,
  );
  if (buttons.length > 0) lines.push(buttons.join("  "));
  return lines.join("\n");
}

/** Every button of a reply, row by row. */
export function buttonsOf(body: ReplyBody): readonly Button[] {
  return body.buttons.flat();
}
