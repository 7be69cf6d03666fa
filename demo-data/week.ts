/** A week of messages from a file: one a line, checked. */
import { z } from "zod";

const messageSchema = z
  .strictObject({
    at: z.iso.datetime({ offset: true }),
    smith: z.string().min(1).max(60),
    chat: z.string().min(1).max(60),
    text: z.string().min(1).optional(),
    /** What the button says that was pressed. */
    button: z.string().min(1).optional(),
  })
  .refine(({ button, text }) => (button === undefined) !== (text === undefined), {
    message: "a message has either text or a button",
  });
export type DemoMessage = z.infer<typeof messageSchema>;

/** Throws an Error that names the line which is wrong, or which stands before the one above it in time. */
export function readWeek(lines: string): readonly DemoMessage[] {
  const messages = lines
    .split("\n")
    .flatMap((line, index) => (line.trim() === "" ? [] : [parsed(line, index + 1)]));
  for (const [index, { at }] of messages.entries()) {
    const before = messages[index - 1]?.at ?? at;
    if (Date.parse(at) < Date.parse(before)) throw new Error(`${at} stands after ${before}`);
  }
  return messages;
}

function parsed(line: string, number: number): DemoMessage {
  const result = messageSchema.safeParse(JSON.parse(line));
  if (result.success) return result.data;
  throw new Error(`line ${number}: ${result.error.issues[0]?.message}`, { cause: result.error });
}
