/** Last step: figures that steel cannot have are not recorded but asked about, with the likely slip named. */
import type { KnownPiece, ReadingContext } from "./context.js";
import { TEMP_FROM_C, TEMP_TO_C } from "./heat-number.js";
import type { Body, Ledger } from "./ledger.js";
import { doubt, slips, unitDoubt } from "./slips.js";

/** Melts of this trade stay below (common practice, range 1450 to 1650 °C). */
const MELT_TO_C = 1700;
const MELT_FROM_C = 1000;
/** More than this over the last weight or volume is a slip (contract: 30 %). */
const GROWTH = 1.3;
/** One removal of more than this share of the piece is asked about; a cut may take more. Common practice. */
const REMOVAL_SHARE = 0.5;
const LARGEST: Readonly<Record<string, number>> = {
  thicknessMm: 200,
  widthMm: 400,
  lengthMm: 2000,
  diameterMm: 400,
  heightMm: 300,
  massG: 20_000,
};
/** A list whose largest size is below this in mm was probably inches (common practice). */
const SMALLEST_LIST_MM = 13; /** What the piece measured last: the last size in the context, over what the state knows. */
function known(
  ledger: Ledger,
  context: ReadingContext,
  told?: Body,
): { piece: KnownPiece; massG: number | undefined } {
  // Another ingot is spoken of: nothing of it is known here.
  const other = ledger.bodies.some(
    (body) => body.kind === "switch" || body.kind === "undo" || body.isNew === true,
  );
  let piece: Record<string, unknown> = { shape: "bar", ...(other ? {} : context.ingot?.piece) };
  let massG = other ? undefined : context.ingot?.massG;
  for (const fact of [...(other ? [] : (context.last ?? [])), ...(told ? [told] : [])]) {
    const { kind, massG: weighed, at: _at, approx: _approx, ...sizes } = fact as Body;
    if (kind !== "size" && kind !== "ingot") continue;
    massG = typeof weighed === "number" ? weighed : massG;
    if (kind === "size") piece = { ...piece, ...sizes };
    else if (sizes.diameterMm !== undefined)
      piece = { shape: "disc", diameterMm: sizes.diameterMm, heightMm: sizes.heightMm };
  }
  return { piece: piece as unknown as KnownPiece, massG };
}

/** Density of steel, g/mm³: handbook value of plain carbon steel, the finer one of src/steel is 1 % off at most. */
const DENSITY_G_PER_MM3 = 7.85e-3;
/**
 * Box of the sizes told, over the steel in it. Sizes are those of the widest places: a piece that tapers to a point all along fills
 * half of its box. Common practice, no source; 1.5 to 2.
 */
const LOOSEST = 1.9;
/** Up to so many heats nothing is tapered yet. Common practice, no source; 3 to 8. */
const BOXY_HEATS = 5;

const FIELDS = ["thicknessMm", "widthMm", "lengthMm", "diameterMm", "heightMm"] as const;

function volume(piece: { readonly [field: string]: unknown }): number | undefined {
  const get = (field: string): number | undefined =>
    typeof piece[field] === "number" ? (piece[field] as number) : undefined;
  const t = get("thicknessMm");
  const w = get("widthMm");
  const l = get("lengthMm");
  if (t !== undefined && w !== undefined && l !== undefined) return t * w * l;
  const d = get("diameterMm");
  const h = get("heightMm") ?? t;
  return d !== undefined && h !== undefined ? (Math.PI * d * d * h) / 4 : undefined;
}

function checkSize(body: Body, ledger: Ledger, context: ReadingContext) {
  const { piece, massG } = known(ledger, context);
  for (const field of [...FIELDS, "massG"]) {
    const most = LARGEST[field] ?? Number.POSITIVE_INFINITY;
    if (Number(body[field]) > most)
      return doubt(ledger, context, { body, field, fits: (one) => one <= most, whole: true });
  }
  const weighed = body.massG;
  if (massG !== undefined && typeof weighed === "number" && weighed > massG * GROWTH)
    return doubt(ledger, context, {
      body,
      field: "massG",
      fits: (one) => one <= massG * 1.05 && one >= massG * 0.5,
      whole: true,
      about: "heavier",
    });
  const said = FIELDS.filter((field) => typeof body[field] === "number");
  if (said.length === 0) return;
  // A bar longer than its weight allows.
  const weight = typeof weighed === "number" ? weighed : massG;
  const space = volume({ ...piece, ...body });
  // Before the first taper a piece fills its box.
  const boxy = context.ingot?.massG !== undefined && (context.ingot.heats ?? 0) <= BOXY_HEATS;
  const looseness = boxy && weight === context.ingot?.massG ? GROWTH : LOOSEST;
  const fitsWeight = (now: Body): boolean =>
    (volume({ ...piece, ...now }) ?? 0) * DENSITY_G_PER_MM3 <= (weight ?? 0) * looseness;
  const solid = body.shape !== "ring" && piece.shape !== "ring";
  if (solid && weight !== undefined && space !== undefined && said.length >= 3 && !fitsWeight(body))
    return doubt(ledger, context, {
      body,
      field: "lengthMm",
      fits: (one) => fitsWeight({ ...body, lengthMm: one }) && one > Number(body.lengthMm) / 15,
      whole: true,
    });
  if (tooLittle(body, said, ledger, context)) return;
  const shape = body.shape;
  if (shape !== undefined && shape !== piece.shape) return;
  const old = volume(piece as unknown as Record<string, unknown>);
  const partial = said.some(
    (field) => (piece as unknown as Record<string, unknown>)[field] === undefined,
  );
  const base = old ?? (said.length === 3 ? context.ingot?.volumeMm3 : undefined);
  if (base !== undefined && !partial) {
    const fits = (now: Body): boolean => (volume({ ...piece, ...now }) ?? 0) <= base * GROWTH;
    if (!fits(body)) {
      const suspect =
        [...said].sort((a, b) => ratio(body, piece, b) - ratio(body, piece, a))[0] ?? "lengthMm";
      return doubt(ledger, context, {
        body,
        field: suspect,
        fits: (one) => fits({ ...body, [suspect]: one }) && one > Number(body[suspect]) / 15,
        whole: true,
      });
    }
    return;
  }
  for (const field of said) {
    const before = (piece as unknown as Record<string, unknown>)[field];
    if (
      said.length === 1 &&
      old === undefined &&
      typeof before === "number" &&
      Number(body[field]) > before * GROWTH &&
      field !== "lengthMm"
    )
      return doubt(ledger, context, {
        body,
        field,
        fits: (one) => one <= before * GROWTH && one >= before / 2,
        whole: true,
      });
  }
  const largest = Math.max(...said.map((field) => Number(body[field])));
  if (context.units === "mm" && said.length >= 2 && largest < SMALLEST_LIST_MM)
    unitDoubt(ledger, body, said, true);
}

/** Steel does not vanish: sizes that hold much less than there is are asked about. True if they were. */
function tooLittle(
  body: Body,
  said: readonly string[],
  ledger: Ledger,
  context: ReadingContext,
): boolean {
  const whole = context.ingot?.wholeG;
  const space = volume(body);
  if (whole === undefined || space === undefined || body.shape === "ring") return false;
  const fits = (now: Body): boolean => {
    const massG = (volume(now) ?? 0) * DENSITY_G_PER_MM3;
    return massG >= whole * LEAST_LEFT && massG <= whole * GROWTH;
  };
  if (space * DENSITY_G_PER_MM3 >= whole * LEAST_LEFT) return false;
  const withField = (field: string, value: number): Body => ({ ...body, [field]: value });
  // The field of which a usual slip would put it right, else the longest.
  const field =
    said.find((one) => slips(Number(body[one])).some((value) => fits(withField(one, value)))) ??
    [...said].sort((a, b) => Number(body[b]) - Number(body[a]))[0] ??
    "lengthMm";
  doubt(ledger, context, { body, field, fits: (one) => fits(withField(field, one)), whole: true });
  return true;
}
/** Fire, trimming that nobody told of and rounded sizes leave more than this of the steel. Common practice, no source; 0.4 to 0.7. */
const LEAST_LEFT = 0.5;

const ratio = (body: Body, piece: KnownPiece, field: string): number =>
  Number(body[field]) / Number((piece as unknown as Record<string, unknown>)[field] ?? body[field]);

/** Looks at every entry; doubtful figures leave it and become a question. */
export function checkAll(ledger: Ledger, context: ReadingContext): void {
  for (const body of [...ledger.bodies]) {
    const temperature = body.temperatureC;
    if (
      body.kind === "heat" &&
      typeof temperature === "number" &&
      (temperature < TEMP_FROM_C || temperature > TEMP_TO_C)
    )
      doubt(ledger, context, {
        body,
        field: "temperatureC",
        fits: (one) => one >= TEMP_FROM_C && one <= TEMP_TO_C,
      });
    if (
      body.kind === "melt" &&
      typeof temperature === "number" &&
      (temperature > MELT_TO_C || temperature < MELT_FROM_C)
    )
      doubt(ledger, context, {
        body,
        field: "temperatureC",
        fits: (one) => one >= MELT_FROM_C && one <= MELT_TO_C,
      });
    if (body.kind === "melt") checkYield(body, ledger, context);
    if (body.kind === "size") checkSize(body, ledger, context);
    if (body.kind === "ingot") checkIngot(body, ledger, context);
    if (body.kind === "crack") {
      const { piece } = known(ledger, context, sizeIn(ledger));
      const most = Math.max(
        ...[piece.thicknessMm, piece.widthMm, piece.heightMm, piece.diameterMm].map(
          (one) => one ?? 0,
        ),
      );
      const depth = body.depthMm;
      const limit = most > 0 ? most : 150;
      if (typeof depth === "number" && depth > limit)
        doubt(ledger, context, { body, field: "depthMm", fits: (one) => one <= limit / 2 });
      const position = body.positionMm;
      const long = piece.lengthMm;
      if (typeof position === "number" && long !== undefined && position > long * PAST_END)
        doubt(ledger, context, { body, field: "positionMm", fits: (one) => one <= long });
      const length = body.lengthMm;
      const longest = Math.max(piece.lengthMm ?? 0, piece.diameterMm ?? 0, most) * 1.3;
      if (
        typeof length === "number" &&
        longest > 0 &&
        (piece.lengthMm ?? piece.diameterMm) !== undefined &&
        length > longest
      )
        doubt(ledger, context, { body, field: "lengthMm", fits: (one) => one <= longest });
    }
    if (body.kind === "removal") {
      const { massG, piece } = known(ledger, context);
      checkTaken(body, piece, ledger, context);
      const lost = body.massG;
      const share = body.method === "cut" || body.method === "punch" ? 0.95 : REMOVAL_SHARE;
      if (massG !== undefined && typeof lost === "number" && lost > massG * share)
        doubt(ledger, context, { body, field: "massG", fits: (one) => one <= massG * 0.2 });
    }
  }
}

const sizeIn = (ledger: Ledger): Body | undefined =>
  ledger.bodies.find((body) => body.kind === "size" || body.kind === "ingot");
/** Over the known length by so much a place or a cut may be told. Common practice, no source; 1 to 1.2. */
const PAST_END = 1.1;

/** No more is cut off than there is, and no hole is wider than the bar. */
function checkTaken(body: Body, piece: KnownPiece, ledger: Ledger, context: ReadingContext): void {
  const long = piece.lengthMm;
  if (body.method === "cut" && long !== undefined && Number(body.lengthMm) > long * PAST_END)
    doubt(ledger, context, { body, field: "lengthMm", fits: (one) => one < long });
  const wide = Math.max(piece.widthMm ?? 0, piece.diameterMm ?? 0);
  if (wide > 0 && Number(body.diameterMm) > wide)
    doubt(ledger, context, { body, field: "diameterMm", fits: (one) => one < wide });
}

/** No more steel comes out of a crucible than went in. */
function checkYield(body: Body, ledger: Ledger, context: ReadingContext): void {
  const charge = (body.charge as { massG?: number }[] | undefined) ?? [];
  const parts = charge.reduce((sum, one) => sum + (one.massG ?? 0), 0);
  const massG = typeof body.massG === "number" ? body.massG : parts;
  if (massG > 0 && Number(body.ingotG) > massG * MOST_YIELD)
    doubt(ledger, context, { body, field: "ingotG", fits: (one) => one <= massG });
}
/** Weighings of charge and ingot agree so well. Common practice, no source; 1 to 1.1. */
const MOST_YIELD = 1.05;

function checkIngot(body: Body, ledger: Ledger, context: ReadingContext) {
  for (const field of ["diameterMm", "heightMm", "massG"]) {
    const most = field === "massG" ? 20_000 : 400;
    if (Number(body[field]) > most)
      return doubt(ledger, context, { body, field, fits: (one) => one <= most });
  }
  const diameter = body.diameterMm;
  if (context.units === "mm" && typeof diameter === "number" && diameter < SMALLEST_LIST_MM)
    unitDoubt(
      ledger,
      body,
      ["diameterMm", "heightMm"].filter((one) => typeof body[one] === "number"),
      false,
    );
}
