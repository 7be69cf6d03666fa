/**
 * Between our camelCase bodies and the snake_case of the command line's JSON and the tables' columns.
 * The rule is mechanical both ways: `temperatureC` ↔ `temperature_c`, `ingotG` ↔ `ingot_g`.
 */
import { type DraftBody, draftSchema } from "./entry.js";

export const toSnake = (name: string): string =>
  name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
export const toCamel = (name: string): string =>
  name.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase());

function renamed(value: unknown, rename: (name: string) => string): unknown {
  if (Array.isArray(value)) return value.map((item) => renamed(item, rename));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined && inner !== null)
      .map(([name, inner]) => [rename(name), renamed(inner, rename)]),
  );
}

/** Any of our records with snake_case names, unknown fields left out. */
export const snakeCased = (value: object): Record<string, unknown> =>
  renamed(value, toSnake) as Record<string, unknown>;

/** Of a question the command line shows these; the figures asked about stay inside. */
const SHOWN_QUESTION_FIELDS = new Set(["kind", "about", "at", "approx"]);

/** A body as the command line prints it. */
export function toContract(body: DraftBody): Record<string, unknown> {
  const all = snakeCased(body);
  if (body.kind !== "question") return all;
  return Object.fromEntries(
    Object.entries(all).filter(([name]) => SHOWN_QUESTION_FIELDS.has(name)),
  );
}

/** A body from the command line's JSON. Throws a ZodError that names the field. */
export const fromContract = (json: unknown): DraftBody => draftSchema.parse(renamed(json, toCamel));
