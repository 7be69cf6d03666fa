/** `phrase`: how one message is read, rule by rule. For contributors. */
import { z } from "zod";
import { read, readingToJson } from "../language/index.js";
import type { Command } from "./command.js";
import { isoTime, options, unitsOption } from "./options.js";

const schema = z.object({ at: isoTime.optional(), units: unitsOption.optional() });

export const phrase: Command = async (args, config) => {
  const { values, words } = options(args, schema, { least: 1, most: 200 });
  const reading = read(words.join(" "), {
    now: values.at ?? new Date().toISOString(),
    timezone: config.timezone,
    units: values.units ?? "mm",
  });
  const lines = [...reading.trace, JSON.stringify(readingToJson(reading), null, 1)];
  process.stdout.write(`${lines.join("\n")}\n`);
};
