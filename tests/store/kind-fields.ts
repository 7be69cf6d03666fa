/** What the zod schemas say of the tables, read from their JSON schemas rather than through our own mapper. */
import { z } from "zod";
import { FACT_KINDS, FACT_SCHEMAS, type FactKind, toSnake } from "../../src/logbook/index.js";

/** Tables whose name is not the kind's: docs/entries.md. */
const TABLES: Partial<Record<FactKind, string>> = { route: "plan", finish: "blade" };
export const tableOf = (kind: FactKind): string => TABLES[kind] ?? kind;

/** What zod says of a field, read from its JSON schema rather than through our own mapper. */
export interface Field {
  readonly type: "string" | "number" | "integer" | "boolean" | "array";
  readonly enum?: readonly string[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly format?: string;
  readonly items?: { readonly properties: Record<string, Field>; readonly required: string[] };
}
export interface Table {
  readonly kind: FactKind;
  readonly table: string;
  readonly fields: Readonly<Record<string, Field>>;
  readonly required: readonly string[];
}

export const kinds: readonly Table[] = FACT_KINDS.map((kind) => {
  const json = z.toJSONSchema(FACT_SCHEMAS[kind]) as unknown as {
    properties: Record<string, Field>;
    required: string[];
  };
  const { kind: _kind, ...fields } = json.properties;
  return {
    kind,
    table: tableOf(kind),
    fields,
    required: json.required.filter((name) => name !== "kind"),
  };
});
export const lists = kinds.flatMap(({ kind, table, fields }) =>
  Object.entries(fields).flatMap(([name, { items }]) =>
    items === undefined
      ? []
      : [
          {
            kind,
            table: `${table}_${toSnake(name)}`,
            fields: items.properties,
            required: items.required,
          },
        ],
  ),
);
export const plain = (fields: Table["fields"]) =>
  Object.entries(fields).filter(([, { type }]) => type !== "array");
export const columnType = ({ type }: Field): string =>
  ({ string: "TEXT", number: "REAL", integer: "INTEGER", boolean: "INTEGER", array: "" })[type];

/** Values at the ends of the range, and values just outside. Steps of a millionth of the end. */
export function samples(field: Field): { good: unknown[]; bad: unknown[] } {
  const near = (end: number): number => Math.max(Math.abs(end) * 1e-6, 1e-6);
  if (field.enum) return { good: [...field.enum], bad: ["elsewhere", "", field.enum.join()] };
  switch (field.type) {
    case "boolean":
      return { good: [0, 1], bad: [2, -1, "yes"] };
    case "integer": {
      const low = field.minimum ?? (field.exclusiveMinimum ?? Number.NaN) + 1;
      const high = field.maximum ?? Number.NaN;
      return { good: [low, high], bad: [low - 1, high + 1, low + 0.5, "many"] };
    }
    case "number": {
      const low = field.minimum ?? field.exclusiveMinimum ?? Number.NaN;
      const high = field.maximum ?? Number.NaN;
      const open = field.exclusiveMinimum !== undefined;
      return {
        good: [open ? low + near(low) : low, high],
        bad: [open ? low : low - near(low), high + near(high), "much", Number.POSITIVE_INFINITY],
      };
    }
    case "string": {
      if (field.format !== undefined) return { good: ["2026-03-02T09:00:00+01:00"], bad: [] };
      const most = field.maxLength ?? Number.NaN;
      return {
        good: ["x".repeat(field.minLength ?? 0), "x".repeat(most)],
        bad: ["", "x".repeat(most + 1)],
      };
    }
    case "array":
      return { good: [], bad: [] };
  }
}

export const byName = (a: { name: string }, b: { name: string }): number =>
  a.name < b.name ? -1 : 1;
