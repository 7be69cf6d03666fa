/** Which chats are to get their day sheet now, and the press of a button that stands for it. */
import { type Entry, foldShop, type Incoming, type LogStore } from "../logbook/index.js";
import { dayBounds, isTimezone } from "../report/index.js";
import { sheetCode } from "./buttons.js";
import { dueSheet, type SheetDay } from "./due-sheet.js";

export interface DueSheet extends SheetDay {
  readonly chatId: string;
  /** Who set the hour. */
  readonly smithId: string;
}

export interface DaySheets {
  /** Of the messenger's chats; a day on which nothing was logged is seen to without a sheet. */
  due(now: string): Promise<readonly DueSheet[]>;
  /** The sheet is in the outbox. */
  done(sheet: DueSheet): Promise<void>;
}

export function createDaySheets({
  store,
  timezone,
}: {
  readonly store: LogStore;
  /** IANA zone of chats that did not set one. */
  readonly timezone: string;
}): DaySheets {
  return {
    async due(now) {
      const sheets: DueSheet[] = [];
      for (const hour of await store.sheetHours()) {
        if (hour.edge !== "messenger") continue;
        const { chatId, smithId } = hour;
        const zone = await zoneOf(store, chatId, timezone);
        const day = dueSheet(hour, now, zone);
        if (day === undefined) continue;
        const { from, to } = dayBounds(day.of, zone);
        if ((await store.day(chatId, from, to)).some(isWork)) {
          sheets.push({ ...day, chatId, smithId });
        } else await store.sheetDone(chatId, day.on);
      }
      return sheets;
    },
    done: ({ chatId, on }) => store.sheetDone(chatId, on),
  };
}

/** The press that brings the sheet into the log and the outbox: the same day's twice is one. */
export const sheetPress = (
  { chatId, of, on, smithId }: DueSheet,
  id: string,
  at: string,
): Incoming => ({
  id,
  sourceKey: `messenger:${chatId}:sheet:${on}`,
  edge: "messenger",
  chatId,
  smithId,
  kind: "button",
  text: sheetCode(of),
  sentAt: at,
  receivedAt: at,
});

async function zoneOf(store: LogStore, chatId: string, timezone: string): Promise<string> {
  const { settings } = await store.view(chatId, "", new Date(0).toISOString());
  const said = foldShop(settings).timezone;
  return said !== undefined && isTimezone(said) ? said : timezone;
}

const isWork = ({ fact, takenBackBy }: Entry): boolean =>
  takenBackBy === undefined &&
  fact !== undefined &&
  fact.kind !== "setting" &&
  fact.kind !== "switch";
