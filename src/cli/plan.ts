/** `plan`: a plan request as JSON on standard input; the plan as JSON. */
import { text } from "node:stream/consumers";
import { z } from "zod";
import { type PlanRequest, planForging, planToContract } from "../forging/index.js";
import { ROUTES, SHAPES_OF_INGOT, toCamel, toSnake } from "../logbook/index.js";
import type { Command } from "./command.js";
import { options } from "./options.js";
import { Refused } from "./refused.js";

const size = z.number().positive().max(10_000);
const mass = z.number().positive().max(100_000);

/** The request of docs/contract.md; unknown fields are refused by name. */
const requestSchema = z.strictObject({
  ingot: z.strictObject({
    shape: z.enum(SHAPES_OF_INGOT).optional(),
    diameter_mm: size.optional(),
    bottom_diameter_mm: size.optional(),
    height_mm: size.optional(),
    mass_g: mass.optional(),
    carbon_pct: z.number().min(0).max(6.7).optional(),
    phosphorus_pct: z.number().min(0).max(5).optional(),
    pipe_depth_mm: size.optional(),
    pipe_diameter_mm: size.optional(),
    cooling_k_per_min: z.number().positive().max(10_000).optional(),
  }),
  blade: z
    .strictObject({
      edge: z.enum(["single", "double"]).optional(),
      length_mm: size.optional(),
      width_mm: size.optional(),
      thickness_mm: size.optional(),
      tang_length_mm: size.optional(),
      tang_width_mm: size.optional(),
      tang_thickness_mm: size.optional(),
      tang: z.enum(["stick", "full"]).optional(),
      section: z.enum(["wedge", "bevel", "diamond", "lens", "flat"]).optional(),
      tip_width_mm: size.optional(),
      tip_thickness_mm: size.optional(),
      fuller_width_mm: size.optional(),
      fuller_depth_mm: size.optional(),
      count: z.int().positive().max(20).optional(),
    })
    .optional(),
  shop: z
    .strictObject({
      press_kn: z.number().positive().max(100_000).optional(),
      hammer_kg: z.number().positive().max(10_000).optional(),
      hand_hammer: z.boolean().optional(),
      welder: z.boolean().optional(),
      start_c: z.number().min(500).max(1400).optional(),
      minutes_per_heat: z.number().positive().max(600).optional(),
    })
    .optional(),
  route: z.enum(ROUTES).optional(),
  split: z.boolean().optional(),
});

export const plan: Command = async (args) => {
  options(args, z.object({}));
  const request = requestSchema.safeParse(json(await text(process.stdin)));
  if (!request.success) {
    const issue = request.error.issues[0];
    throw new Refused(`plan: ${issue?.path.join(".") || "request"}: ${issue?.message}`);
  }
  const answer = planForging(camelCased(request.data) as PlanRequest);
  if (answer.refused) throw new Refused(`plan: ${toSnake(answer.field)}: ${answer.what}`);
  process.stdout.write(`${JSON.stringify(planToContract(answer), null, 2)}\n`);
};

function json(words: string): unknown {
  try {
    return JSON.parse(words);
  } catch {
    throw new Refused("plan: standard input is not JSON");
  }
}

const RENAMED: Readonly<Record<string, string>> = {
  phosphorus_pct: "pPct",
  cooling_k_per_min: "coolingKPerMin",
};

function camelCased(value: unknown): unknown {
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([name, inner]) => [RENAMED[name] ?? toCamel(name), camelCased(inner)]),
  );
}
