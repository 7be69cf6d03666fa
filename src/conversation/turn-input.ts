/** Everything that one turn is handed, and what a question is answered from. */
import type {
  ChatView,
  Decision,
  DraftOf,
  Entry,
  Incoming,
  IngotState,
  SheetHour,
} from "../logbook/index.js";
import type { ChatUnits } from "../units/index.js";
import type { Heard } from "./hear.js";
import type { ShopNow } from "./shop-now.js";

export interface DayLog {
  readonly date: string;
  readonly entries: readonly Entry[];
  readonly states: ReadonlyMap<string, IngotState>;
}

export interface TurnInput {
  readonly incoming: Incoming;
  readonly view: ChatView;
  readonly shop: ShopNow;
  readonly timezone: string;
  readonly heard: Heard;
  readonly decision: Decision;
  /** State of the ingot in hand before this message. */
  readonly before: IngotState | undefined;
  readonly dayLog: DayLog | undefined;
  /** When the day's sheet comes by itself, where this message has to do with it. */
  readonly sheetHour?: SheetHour | undefined;
  /** Melt rows of the chat of late, where this message needs them. */
  readonly meltLog: readonly Entry[];
  readonly newId: () => string;
}

/** A question with what its answer needs. */
export interface Asked {
  readonly question: DraftOf<"question">;
  readonly input: Pick<TurnInput, "dayLog" | "timezone" | "view">;
  readonly state: IngotState | undefined;
  readonly shop: ShopNow;
  readonly units: ChatUnits;
}
