/**
 * First contact: three short questions with buttons, each can be skipped. What is assumed while nobody
 * answered is stated, so who skips is never stuck.
 */

import type { Choice, Draft, DraftBody, ShopSettings, StoredAsk } from "../logbook/index.js";
import { type ChatUnits, G_PER_POUND, KN_PER_SHORT_TON_FORCE } from "../units/index.js";

export const SETUP_QUESTIONS = {
  "setup-units": "Units? mm until you say inch.",
  "setup-hammer": "What swings the hammer? By hand until you say.",
  "setup-tup": "Tup mass? Say it: 40 kg, 88 lb.",
  "setup-press": "Force of the press? Say it: 20 t, 200 kN.",
  "setup-welder": "Can you weld a handle onto an ingot? No until you say yes.",
} as const;
export type SetupQuestion = keyof typeof SETUP_QUESTIONS;
export const isSetup = (about: string): about is SetupQuestion => about in SETUP_QUESTIONS;

export const SKIP = "Skip";
const drafts = (...bodies: DraftBody[]): readonly Draft[] =>
  bodies.map((body) => ({ body, implied: [], confidence: 1 }));

const CHOICES: Record<SetupQuestion, readonly (Choice & { readonly next?: SetupQuestion })[]> = {
  "setup-units": [
    { label: "mm", drafts: drafts({ kind: "setting", units: "mm" }) },
    { label: "inch", drafts: drafts({ kind: "setting", units: "inch", temperatureUnits: "f" }) },
    { label: SKIP, drafts: [] },
  ],
  "setup-hammer": [
    { label: "Hand", drafts: drafts({ kind: "setting", handHammer: true }) },
    { label: "Power hammer", drafts: [], next: "setup-tup" },
    { label: "Press", drafts: [], next: "setup-press" },
    { label: SKIP, drafts: [] },
  ],
  "setup-tup": [
    { label: "25 kg", drafts: drafts({ kind: "setting", hammerKg: 25 }) },
    { label: "50 kg", drafts: drafts({ kind: "setting", hammerKg: 50 }) },
    { label: SKIP, drafts: [] },
  ],
  "setup-press": [
    { label: "100 kN", drafts: drafts({ kind: "setting", pressKn: 100 }) },
    { label: "200 kN", drafts: drafts({ kind: "setting", pressKn: 200 }) },
    { label: SKIP, drafts: [] },
  ],
  "setup-welder": [
    { label: "Yes", drafts: drafts({ kind: "setting", welder: true }) },
    { label: "No", drafts: drafts({ kind: "setting", welder: false }) },
    { label: SKIP, drafts: [] },
  ],
};

const pounds = (lb: number) => ({ kind: "setting", hammerKg: (lb * G_PER_POUND) / 1000 }) as const;
const shortTons = (tons: number) =>
  ({ kind: "setting", pressKn: tons * KN_PER_SHORT_TON_FORCE }) as const;

/** The same questions where the chat counts in inches. */
const INCH_CHOICES: Partial<Record<SetupQuestion, readonly Choice[]>> = {
  "setup-tup": [
    { label: "50 lb", drafts: drafts(pounds(50)) },
    { label: "100 lb", drafts: drafts(pounds(100)) },
    { label: SKIP, drafts: [] },
  ],
  "setup-press": [
    { label: "12 tons", drafts: drafts(shortTons(12)) },
    { label: "25 tons", drafts: drafts(shortTons(25)) },
    { label: SKIP, drafts: [] },
  ],
};

/** The question as it is stored until somebody answers. */
export const setupAsk = (about: SetupQuestion, id: string, units: ChatUnits): StoredAsk => ({
  id,
  about,
  choices: ((units.length === "inch" ? INCH_CHOICES[about] : undefined) ?? CHOICES[about]).map(
    ({ label, drafts: said }) => ({
      label,
      drafts: said.map(({ body, confidence }) => ({ body, implied: [], confidence })),
    }),
  ),
});

/** The question after this one, undefined after the last. */
export function afterSetup(
  about: SetupQuestion,
  index: number | undefined,
): SetupQuestion | undefined {
  const next = index === undefined ? undefined : CHOICES[about][index]?.next;
  if (next !== undefined) return next;
  if (about === "setup-units") return "setup-hammer";
  return about === "setup-welder" ? undefined : "setup-welder";
}

/** What is assumed while it was not said, in one line. */
export function assumed(shop: ShopSettings): string | undefined {
  const parts = [
    shop.units === undefined && "mm",
    shop.pressKn === undefined && shop.hammerKg === undefined && shop.handHammer === undefined
      ? "hand hammer"
      : undefined,
    shop.welder === undefined && "no welded handle",
  ].filter((part): part is string => typeof part === "string");
  return parts.length === 0 ? undefined : `Assumed: ${parts.join(", ")}.`;
}

/** Words put before a typed answer so that a bare figure is read as what was asked for. */
export const ANSWER_PREFIX: Partial<Record<SetupQuestion, string>> = {
  "setup-tup": "power hammer ",
  "setup-press": "press ",
};
