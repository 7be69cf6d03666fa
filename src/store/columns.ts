/**
 * From the zod schema of a kind to the columns of its table: the only place that knows how a field is
 * stored. Booleans are 0 and 1, a list of objects is a table of its own, the rest as it is.
 */

import { z } from "zod";
import { FACT_SCHEMAS, type FactKind, toSnake } from "../logbook/index.js";

/** Kinds whose table has the name of the thing rather than of the kind. */
const TABLES: Partial<Record<FactKind, string>> = { route: "plan", finish: "blade" };
export const tableOf = (kind: FactKind): string => TABLES[kind] ?? kind;

export interface Column {
  readonly field: string;
  readonly column: string;
  readonly boolean: boolean;
}
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
