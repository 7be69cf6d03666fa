/** `hear`: voice notes to words, one JSON object a line. */
import { z } from "zod";
import { readingToJson, read as readMessage } from "../language/index.js";
import { troubleLine } from "../speech/index.js";
import type { Command } from "./command.js";
import { earsFor } from "./hearing.js";
import { options } from "./options.js";
import { Refused } from "./refused.js";

const schema = z.object({});

export const hear: Command = async (args, config) => {
  const { words: files } = options(args, schema, { least: 1, most: 1000 });
  const ears = await earsFor(config);
  const refused: string[] = [];
  try {
    const context = {
      now: new Date().toISOString(),
      timezone: config.timezone,
      units: "mm" as const,
    };
    for (const file of files) {
      const heard = await ears.hear(file, context);
      if (heard.kind === "trouble") {
        refused.push(`${file}: ${troubleLine(heard.trouble)}`);
        continue;
      }
      const { text, confidence, durationS, tookS } = heard;
      const line = {
        file,
        text,
        confidence,
        duration_s: durationS,
        took_s: tookS,
        read: readingToJson(readMessage(text, context)),
      };
      process.stdout.write(`${JSON.stringify(line)}\n`);
    }
  } finally {
    await ears.close();
  }
  if (refused.length > 0) throw new Refused(refused.join("\n"));
};
