/** Random but reasonable plan requests, from a seed: the same seed gives the same requests. */
import type { PlanRequest } from "../../src/forging/index.js";

/** A small generator of numbers in 0 to 1 (xorshift32): repeatable, no claim beyond that. */
export function seeded(seed: number): () => number {
  let state = seed | 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

export function randomRequest(next: () => number): PlanRequest {
  const between = (low: number, high: number) => low + (high - low) * next();
  const some = <V>(value: V): V | undefined => (next() < 0.5 ? value : undefined);
  const pick = <V>(list: readonly V[]): V => list[Math.floor(next() * list.length)] as V;
  const clean = <O extends object>(value: O): O =>
    Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as O;
  const diameterMm = between(30, 120);
  const heightMm = diameterMm * between(0.25, 1.3);
  const shape = pick(["bowl", "puck", "cone"] as const);
  const sized = next() < 0.8;
  const widthMm = between(12, 55);
  const thicknessMm = between(1.5, Math.min(8, widthMm / 2));
  return clean({
    ingot: clean({
      shape,
      ...(sized ? { diameterMm, heightMm } : { massG: between(80, 4000) }),
      bottomDiameterMm: shape === "cone" ? diameterMm * between(0.2, 0.95) : undefined,
      carbonPct: some(between(0.8, 2.0)),
      pPct: some(between(0, 0.2)),
      pipeDepthMm: sized ? some(heightMm * between(0.05, 0.9)) : undefined,
      pipeDiameterMm: sized ? some(diameterMm * between(0.05, 0.9)) : undefined,
      coolingKPerMin: some(between(1, 60)),
    }),
    blade: clean({
      edge: some(pick(["single", "double"] as const)),
      lengthMm: some(between(50, 600)),
      widthMm,
      thicknessMm,
      section: some(pick(["wedge", "bevel", "diamond", "lens", "flat"] as const)),
      tang: some(pick(["stick", "full"] as const)),
      count: some(pick([1, 2, 3])),
    }),
    shop: clean({
      pressKn: some(between(30, 1500)),
      hammerKg: some(between(10, 100)),
      handHammer: some(true),
      welder: some(next() < 0.5),
      startC: some(between(800, 1150)),
      minutesPerHeat: some(between(2, 20)),
    }),
    split: some(next() < 0.5),
  }) as PlanRequest;
}
