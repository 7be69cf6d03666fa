/** The whole log as tables, one a kind, with the field names of the command line's JSON. */
import {
  type Entry,
  FACT_KINDS,
  FACT_SCHEMAS,
  type FactKind,
  type SheetHour,
  snakeCased,
  TAKE_BACK_KINDS,
  toContract,
  toSnake,
} from "../logbook/index.js";

export type ExportKind = Entry["kind"];
export type ExportRow = Readonly<Record<string, unknown>>;

export interface ExportTable {
  readonly kind: ExportKind | "day_sheet_hour";
  /** Every column of the kind, whether a row fills it or not. */
  readonly columns: readonly string[];
  /** In order of arrival; what is not known is left out. */
  readonly rows: readonly ExportRow[];
}

/** Said of every row: which it is, when, who, which ingot, which message, whether it was taken back. */
const HEADER = ["id", "at", "smith", "ingot", "message", "taken_back"] as const;

/** A table for each kind that the log has rows of. A `switch` says its ingot in the column of that name. */
export function exportRows(
  entries: readonly (Entry & {
    readonly ingotName?: string;
    readonly smithName?: string;
  })[],
): readonly ExportTable[] {
  const kinds: readonly ExportKind[] = [...FACT_KINDS, ...TAKE_BACK_KINDS];
  return kinds.flatMap((kind): ExportTable[] => {
    const own = entries.filter((entry) => entry.kind === kind);
    if (own.length === 0) return [];
    return [{ kind, columns: exportColumns(kind), rows: own.map(exportRow) }];
  });
}

/** Beside the kinds: when the day sheets come by themselves, a row a chat; no table where none does. */
export function sheetHourTable(hours: readonly SheetHour[]): readonly ExportTable[] {
  if (hours.length === 0) return [];
  const rows = hours.map(({ at, chatId, doneOn, minute, smithId }) =>
    snakeCased({ chat: chatId, minute, smith: smithId, at, doneOn }),
  );
  const columns = ["chat", "minute", "smith", "at", "done_on"];
  return [{ kind: "day_sheet_hour", columns, rows }];
}

export function exportColumns(kind: ExportKind): readonly string[] {
  const fields =
    kind in FACT_SCHEMAS
      ? Object.keys(FACT_SCHEMAS[kind as FactKind].shape)
          .filter((field) => field !== "kind" && field !== "at")
          .map(toSnake)
      : [];
  return [...new Set<string>([...HEADER, ...fields])];
}

function exportRow(
  entry: Entry & { readonly ingotName?: string; readonly smithName?: string },
): ExportRow {
  const {
    kind: _kind,
    at: _at,
    ...fields
  } = entry.fact === undefined ? {} : (toContract(entry.fact) as Record<string, unknown>);
  const header = snakeCased({
    id: entry.id,
    at: entry.at,
    smith: entry.smithName ?? entry.smithId,
    ingot: entry.ingotName ?? entry.ingotId,
    message: entry.messageId,
    takenBack: entry.takenBackBy !== undefined,
  });
  return { ...header, ...fields };
}
