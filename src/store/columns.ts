/**
 * From the zod schema of a kind to the columns of its table: the only place that knows how a field is
 * stored. Booleans are 0 and 1, a list of objects is a table of its own, the rest as it is.
 */

import { z } from "zod";
import { FACT_SCHEMAS, type Fact, type FactKind, toSnake } from "../logbook/index.js";

/** Kinds whose table has the name of the thing rather than of the kind. */
const TABLES: Partial<Record<FactKind, string>> = { route: "plan", finish: "blade" };
export const tableOf = (kind: FactKind): string => TABLES[kind] ?? kind;

export interface Column {
  readonly field: string;
  readonly column: string;
  readonly boolean: boolean;
}
/** A row as a driver gives it. */
export type Row = Readonly<Record<string, unknown>>;
export interface KindTable {
  readonly kind: FactKind;
  readonly table: string;
  readonly columns: readonly Column[];
  /** Fields that hold a list of objects, a row each, in the table `<table>_<field>`. */
  readonly lists: readonly {
    readonly field: string;
    readonly table: string;
    readonly columns: readonly Column[];
  }[];
}

const bare = (schema: z.core.$ZodType): z.core.$ZodType =>
  schema instanceof z.ZodOptional ? bare(schema.unwrap()) : schema;

function columnsOf(shape: z.core.$ZodShape): Column[] {
  return Object.entries(shape)
    .filter(([field, schema]) => field !== "kind" && !(bare(schema) instanceof z.ZodArray))
    .map(([field, schema]) => ({
      field,
      column: toSnake(field),
      boolean: bare(schema) instanceof z.ZodBoolean,
    }));
}

export function kindTable(kind: FactKind): KindTable {
  const shape: z.core.$ZodShape = FACT_SCHEMAS[kind].shape;
  const table = tableOf(kind);
  const lists = Object.entries(shape).flatMap(([field, schema]) => {
    const list = bare(schema);
    if (!(list instanceof z.ZodArray)) return [];
    const item = bare(list.element);
    if (!(item instanceof z.ZodObject)) throw new RangeError(`${kind}.${field}: a list of objects`);
    return [{ field, table: `${table}_${toSnake(field)}`, columns: columnsOf(item.shape) }];
  });
  return { kind, table, columns: columnsOf(shape), lists };
}

/** The fields of a fact, or of one object of its list, in the order of the columns. */
export const bound = (fields: Row, columns: readonly Column[]): unknown[] =>
  columns.map(({ field, boolean }) => {
    const value = fields[field];
    return value === undefined ? null : boolean ? Number(value) : value;
  });

export const itemsOf = (fact: Fact, field: string): readonly Row[] =>
  ((fact as unknown as Row)[field] ?? []) as readonly Row[];

/** What a row of a kind's table says; `items` gives the rows of a list. Throws a ZodError if it is not of its schema. */
export function factOf(
  { kind, columns, lists }: Pick<KindTable, "kind" | "columns" | "lists">,
  row: Row,
  items: (list: KindTable["lists"][number]) => readonly Row[],
): Fact {
  const fields: Record<string, unknown> = { kind, ...unbound(row, columns) };
  for (const list of lists) {
    const found = items(list).map((item) => unbound(item, list.columns));
    if (found.length > 0) fields[list.field] = found;
  }
  return FACT_SCHEMAS[kind].parse(fields);
}

function unbound(row: Row, columns: readonly Column[]): Row {
  const fields: Record<string, unknown> = {};
  for (const { field, column, boolean } of columns) {
    const value = row[column];
    if (value !== null) fields[field] = boolean ? value === 1 : value;
  }
  return fields;
}
