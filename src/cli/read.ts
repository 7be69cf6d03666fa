/** `read`: messages from standard input, one a line; what each says as one JSON object a line. */
import { createInterface } from "node:readline";
import { z } from "zod";
import { readingToJson, read as readMessage } from "../language/index.js";
import { type Fact, fromContract, isFact } from "../logbook/index.js";
import type { Command } from "./command.js";
import { isoTime, options, unitsOption } from "./options.js";
import { Refused } from "./refused.js";

const schema = z.object({ at: isoTime.optional(), units: unitsOption.optional() });

const lineSchema = z.strictObject({
  text: z.string(),
  context: z
    .strictObject({ units: unitsOption.optional(), last: z.array(z.unknown()).optional() })
    .optional(),
});

export const read: Command = async (args, config) => {
  const { values } = options(args, schema);
  const lines = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY });
  let number = 0;
  let refused: Refused | undefined;
  for await (const line of lines) {
    number += 1;
    if (line.trim() === "") continue;
    let said: ReturnType<typeof parsed>;
    try {
      said = parsed(line, number);
    } catch (cause) {
      if (!(cause instanceof Refused)) throw cause;
      // The lines after a bad one are still read.
      refused ??= cause;
      continue;
    }
    const { text, units, last } = said;
    const reading = readMessage(text, {
      now: values.at ?? new Date().toISOString(),
      timezone: config.timezone,
      units: units ?? values.units ?? "mm",
      last,
    });
    process.stdout.write(`${JSON.stringify(readingToJson(reading))}\n`);
  }
  if (refused !== undefined) throw refused;
};

function parsed(
  line: string,
  number: number,
): { text: string; units?: "mm" | "inch" | undefined; last?: readonly Fact[] } {
  if (!line.startsWith("{")) return { text: line };
  try {
    const { text, context } = lineSchema.parse(JSON.parse(line));
    const last = (context?.last ?? []).map(fromContract).filter(isFact);
    return { text, units: context?.units, last };
  } catch (cause) {
    throw new Refused(`line ${number}: not the JSON that read takes (${reason(cause)})`);
  }
}

const reason = (cause: unknown): string =>
  cause instanceof z.ZodError
    ? `${cause.issues[0]?.path.join(".")}: ${cause.issues[0]?.message}`
    : cause instanceof Error
      ? cause.message
      : String(cause);
