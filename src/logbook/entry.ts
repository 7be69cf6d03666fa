/**
 * What can stand in the log: one zod schema a kind. Field names carry their unit; the same names in
 * snake_case are the columns of the tables (`migrations/`) and the fields of the command line's JSON.
 * The ranges are physical limits for this trade; the tables repeat them as CHECKs and a test compares both.
 */
import { z } from "zod";

const length = (max: number) => z.number().positive().max(max);
const mass = z.number().positive().max(100_000);
const carbon = z.number().min(0).max(6.7);
const temperature = z.number().min(-50).max(2000);
const text = (max: number) => z.string().min(1).max(max);

export const SHAPES_OF_INGOT = ["bowl", "puck", "cone"] as const;
export const ROUTES = ["spine", "face", "end", "ring"] as const;
export const OPERATIONS = [
  "flatten",
  "square",
  "draw",
  "edge",
  "taper",
  "bevel",
  "straighten",
  "punch",
  "open",
  "normalise",
] as const;
export const CRACK_PLACES = [
  "top",
  "bottom",
  "rim",
  "face",
  "spine",
  "edge",
  "end",
  "tang",
  "tip",
] as const;
export const SEVERITIES = ["hairline", "small", "large"] as const;
export const REMOVAL_METHODS = ["grind", "chisel", "cut", "punch", "file"] as const;
export const PIECE_SHAPES = ["bar", "disc", "block", "ring"] as const;

/** Every kind may say when it happened and that it was only about. */
const common = {
  at: z.iso.datetime({ offset: true }).optional(),
  approx: z.boolean().optional(),
};

const melt = z.strictObject({
  kind: z.literal("melt"),
  ...common,
  number: z.int().positive().max(100_000).optional(),
  massG: mass.optional(),
  charge: z
    .array(
      z.strictObject({
        what: text(60),
        massG: mass.optional(),
        carbonPct: z.number().min(0).max(100).optional(),
      }),
    )
    .max(20)
    .optional(),
  temperatureC: temperature.optional(),
  durationMin: z.number().positive().max(100_000).optional(),
  cooling: text(200).optional(),
  carbonPct: carbon.optional(),
  ingotG: mass.optional(),
});

const ingot = z.strictObject({
  kind: z.literal("ingot"),
  ...common,
  name: text(40).optional(),
  shape: z.enum(SHAPES_OF_INGOT).optional(),
  diameterMm: length(1000).optional(),
  bottomDiameterMm: length(1000).optional(),
  heightMm: length(1000).optional(),
  massG: mass.optional(),
  carbonPct: carbon.optional(),
  pipeDepthMm: length(1000).optional(),
  pipeDiameterMm: length(1000).optional(),
  melt: z.int().positive().max(100_000).optional(),
});

const goal = z.strictObject({
  kind: z.literal("goal"),
  ...common,
  edge: z.enum(["single", "double"]).optional(),
  lengthMm: length(3000).optional(),
  widthMm: length(500).optional(),
  thicknessMm: length(200).optional(),
  tangLengthMm: length(1000).optional(),
  count: z.int().positive().max(20).optional(),
});

const route = z.strictObject({
  kind: z.literal("route"),
  ...common,
  route: z.enum(ROUTES).optional(),
  split: z.boolean().optional(),
});

const heat = z.strictObject({
  kind: z.literal("heat"),
  ...common,
  number: z.int().positive().max(10_000).optional(),
  temperatureC: temperature.optional(),
  colour: text(60).optional(),
  durationMin: z.number().positive().max(100_000).optional(),
  operation: z.enum(OPERATIONS).optional(),
});

const size = z.strictObject({
  kind: z.literal("size"),
  ...common,
  shape: z.enum(PIECE_SHAPES).optional(),
  thicknessMm: length(1000).optional(),
  widthMm: length(1000).optional(),
  lengthMm: length(10_000).optional(),
  diameterMm: length(1000).optional(),
  heightMm: length(1000).optional(),
  massG: mass.optional(),
});

const crack = z.strictObject({
  kind: z.literal("crack"),
  ...common,
  place: z.enum(CRACK_PLACES).optional(),
  depthMm: length(500).optional(),
  lengthMm: length(3000).optional(),
  positionMm: z.number().min(0).max(10_000).optional(),
  severity: z.enum(SEVERITIES).optional(),
});

const removal = z.strictObject({
  kind: z.literal("removal"),
  ...common,
  method: z.enum(REMOVAL_METHODS).optional(),
  massG: mass.optional(),
  lengthMm: length(3000).optional(),
  depthMm: length(500).optional(),
  diameterMm: length(1000).optional(),
  place: z.enum(CRACK_PLACES).optional(),
});

const finish = z.strictObject({
  kind: z.literal("finish"),
  ...common,
  lengthMm: length(3000).optional(),
  widthMm: length(500).optional(),
  thicknessMm: length(200).optional(),
  massG: mass.optional(),
  tangLengthMm: length(1000).optional(),
});

const note = z.strictObject({
  kind: z.literal("note"),
  ...common,
  note: text(8000),
});

const switchTo = z.strictObject({
  kind: z.literal("switch"),
  ...common,
  ingot: text(40),
});

const setting = z.strictObject({
  kind: z.literal("setting"),
  ...common,
  units: z.enum(["mm", "inch"]).optional(),
  temperatureUnits: z.enum(["c", "f"]).optional(),
  pressKn: z.number().positive().max(100_000).optional(),
  hammerKg: z.number().positive().max(10_000).optional(),
  handHammer: z.boolean().optional(),
  welder: z.boolean().optional(),
  timezone: text(60).optional(),
  spokenReplies: z.boolean().optional(),
});

/** A fact that is kept, one table a kind. */
export const FACT_SCHEMAS = {
  melt,
  ingot,
  goal,
  route,
  heat,
  size,
  crack,
  removal,
  finish,
  note,
  switch: switchTo,
  setting,
} as const;

export type FactKind = keyof typeof FACT_SCHEMAS;
export const FACT_KINDS = Object.keys(FACT_SCHEMAS) as readonly FactKind[];
export const factSchema = z.discriminatedUnion("kind", [
  melt,
  ingot,
  goal,
  route,
  heat,
  size,
  crack,
  removal,
  finish,
  note,
  switchTo,
  setting,
]);
export type Fact = z.infer<typeof factSchema>;
export type FactOf<K extends FactKind> = Extract<Fact, { kind: K }>;

/** What a message can ask of the log without being a fact: asked, taken back, put right. */
export const QUESTIONS = [
  "next",
  "plan",
  "status",
  "summary",
  "day",
  "time",
  "force",
  "loss",
  "help",
] as const;

/** What a question is about in more detail than the command line's JSON shows. */
export const QUESTION_TOPICS = [
  "pipe",
  "blade",
  "cut",
  "bite",
  "log",
  "charge",
  "figures",
] as const;

const question = z.strictObject({
  kind: z.literal("question"),
  ...common,
  about: z.enum(QUESTIONS),
  topic: z.enum(QUESTION_TOPICS).optional(),
  thicknessMm: length(1000).optional(),
  widthMm: length(1000).optional(),
  lengthMm: length(10_000).optional(),
  biteMm: length(1000).optional(),
  temperatureC: temperature.optional(),
  massG: mass.optional(),
  carbonPct: carbon.optional(),
  ingot: text(40).optional(),
});
const undo = z.strictObject({
  kind: z.literal("undo"),
  ...common,
  count: z.int().positive().max(50).optional(),
});
const correctable = z.union([z.number(), z.string().min(1).max(60)]);
const correct = z.strictObject({
  kind: z.literal("correct"),
  ...common,
  from: correctable.optional(),
  to: correctable.optional(),
  field: text(40).optional(),
});

export const draftSchema = z.discriminatedUnion("kind", [
  ...factSchema.options,
  question,
  undo,
  correct,
]);
/** One thing that a message says, before `decide` has looked at the state. */
export type DraftBody = z.infer<typeof draftSchema>;
export type DraftOf<K extends DraftBody["kind"]> = Extract<DraftBody, { kind: K }>;

export const isFact = (body: DraftBody): body is Fact => body.kind in FACT_SCHEMAS;
