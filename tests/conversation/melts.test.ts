/** Charges asked for and melts told, in whole conversations. */
import { expect, test } from "vitest";
import { Talk } from "./talk.js";

const figure = (lines: readonly string[], pattern: RegExp): number =>
  Number(pattern.exec(lines.join("\n"))?.[1] ?? Number.NaN);

test("a charge is answered in weights, room, heat and one caution", async () => {
  const talk = await Talk.start();
  const lines = await talk.say("charge for 600 g at 1.5 carbon");
  // Mixing rule by hand [S51]: m cast / m iron = (1.5 − 0.05) / (4 − 1.5) = 0.58 when all carbon arrives; a little more as 98 % does.
  const [iron, cast] = [figure(lines, /(\d+) g bar iron/), figure(lines, /(\d+) g cast iron/)];
  expect(cast / iron).toBeGreaterThan(0.58);
  expect(cast / iron).toBeLessThan(0.63);
  // 600 g at a usual yield of 0.96 [S52].
  expect(iron + cast).toBeGreaterThan(620);
  expect(iron + cast).toBeLessThan(632);
  expect(lines.some((line) => /Crucible: \d+ ml molten, \d+ ml heaped/.test(line))).toBe(true);
  expect(figure(lines, /Liquid at (\d+) °C/)).toBeCloseTo(1425, -1.5);
  expect(lines.join("\n")).toMatch(/Assumed: .*bar iron 0.05 % carbon/);
  expect(lines.at(-1)).toMatch(/^⚠ Melt: everything dry/);
});

test("the shop's own cast iron, said with a melt, takes the place of the assumed one", async () => {
  const talk = await Talk.start();
  await talk.say("melt 3, charge 400 g bar iron 0.03 carbon, 200 g cast iron 3.2 carbon");
  const lines = await talk.say("charge for 600 g at 1.5 carbon");
  const [iron, cast] = [figure(lines, /(\d+) g bar iron/), figure(lines, /(\d+) g cast iron/)];
  // (1.5 − 0.03) / (3.2 − 1.5) = 0.865 by the same rule, a little more for the carbon that is lost.
  expect(cast / iron).toBeGreaterThan(0.865);
  expect(cast / iron).toBeLessThan(0.95);
  expect(lines.join("\n")).not.toMatch(/Assumed/);
});

test("carbon that is no steel is refused", async () => {
  const talk = await Talk.start();
  const lines = await talk.say("charge for 600 g at 3.5 carbon");
  expect(lines).toEqual(["3.5 % is not crucible steel. Say a carbon from 0.8 to 2 %."]);
});

test("a melt is answered with carbon, yield and cells in at most five lines", async () => {
  const talk = await Talk.start();
  const lines = await talk.say(
    "melt 7 charge 400 g bar iron, 230 g cast iron, peak 1500, held 25 min, cooled in the furnace, ingot out 605 g",
  );
  expect(lines.length).toBeLessThanOrEqual(5);
  // By hand: (400 × 0.0005 + 230 × 0.036) × 0.98 / 630 ≈ 1.32 %.
  expect(figure(lines, /Carbon ([\d.]+) %/)).toBeCloseTo(1.32, 1);
  // 605 of the metal of 630.
  expect(figure(lines, /yield (\d+) %/)).toBe(96);
  expect(lines.join("\n")).toMatch(/Growth cells about 380 µm/);
});

test("the plan of an ingot takes the cells and the carbon of its melt", async () => {
  const bands = async (cooling: string): Promise<number> => {
    const talk = await Talk.start();
    await talk.say(`melt 7 charge 400 g bar iron, 230 g cast iron, cooled ${cooling}`);
    await talk.say("new ingot Rook from melt 7, 64 across 30 high 450 g");
    return figure(await talk.say("plan"), /bands (\d+) µm/);
  };
  const [slow, fast] = [await bands("in the furnace"), await bands("in air")];
  // Cells go with the rate to the power −0.39 [S21]: 5 against 60 K/min.
  expect(slow / fast).toBeCloseTo((60 / 5) ** 0.39, 0);
});

test("a melt taken back no longer counts", async () => {
  const talk = await Talk.start();
  await talk.say("melt 3, charge 400 g bar iron 0.03 carbon, 200 g cast iron 3.2 carbon");
  await talk.say("charge for 600 g at 1.5 carbon");
  await talk.say("undo");
  const lines = await talk.say("charge for 600 g at 1.5 carbon");
  expect(lines.join("\n")).toMatch(/Assumed: .*cast iron 4 % carbon/);
});
