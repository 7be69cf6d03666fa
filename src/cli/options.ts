/** Command-line options by name, checked; unknown ones are wrong usage. */
import { parseArgs } from "node:util";
import { z } from "zod";
import { Usage } from "./refused.js";

/** Options and positional arguments. Throws `Usage` with the offending word. */
export function options<T extends z.ZodObject>(
  args: readonly string[],
  schema: T,
  positionals: { readonly least: number; readonly most: number } = { least: 0, most: 0 },
): { readonly values: z.infer<T>; readonly words: readonly string[] } {
  const names = Object.keys(schema.shape);
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({
      args: [...args],
      options: Object.fromEntries(names.map((name) => [name, { type: "string" as const }])),
      allowPositionals: true,
    });
  } catch (cause) {
    throw new Usage(cause instanceof Error ? (cause.message.split(".")[0] ?? "") : String(cause));
  }
  const words = parsed.positionals;
  if (words.length < positionals.least || words.length > positionals.most) {
    throw new Usage(
      words.length < positionals.least ? "an argument is missing" : `not expected: ${words.at(-1)}`,
    );
  }
  const checked = schema.safeParse(parsed.values);
  if (!checked.success) {
    const issue = checked.error.issues[0];
    throw new Usage(`--${issue?.path.join(".") ?? ""}: ${issue?.message ?? ""}`);
  }
  return { values: checked.data, words };
}

export const isoTime = z.iso.datetime({
  offset: true,
  error: "an ISO 8601 time with offset, 2026-05-12T14:30:00+02:00",
});
export const unitsOption = z.enum(["mm", "inch"]);
