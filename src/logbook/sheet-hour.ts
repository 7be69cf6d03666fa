/** When a chat's day sheet comes by itself: one row a chat, beside the log. */

/** The hour as it stands, and the last day that was seen to. */
export interface SheetHour {
  readonly chatId: string;
  readonly edge: "terminal" | "messenger";
  /** Who said so last. */
  readonly smithId: string;
  /** Since midnight as the chat's clock shows it, 0 to 1439. */
  readonly minute: number;
  /** When it was said, ISO 8601 in UTC. */
  readonly at: string;
  /** The last day of the chat's (YYYY-MM-DD) whose hour was seen to, sheet or no sheet. */
  readonly doneOn?: string;
}

export interface SheetHourStore {
  /** Of every chat that has one; turned off is left out. */
  sheetHours(): Promise<readonly SheetHour[]>;
  sheetHour(chatId: string): Promise<SheetHour | undefined>;
  /** The hour of that day of the chat's was seen to; an earlier day than before changes nothing. */
  sheetDone(chatId: string, day: string): Promise<void>;
}
