/** What a crack means for the blade: the verdict, the groove, and what to check first. */
import { type CheckFirst, type CrackAdvice, crackAdvice, type Plan } from "../forging/index.js";
import type { Decision, IngotState } from "../logbook/index.js";
import { type ChatUnits, formatLength, formatMass } from "../units/index.js";
import { RANK, type RankedLine } from "./lines.js";
import { pieceNow } from "./plan-for.js";

/** Lines for the last crack that this message reported, if it reported one. */
export function crackLines(
  decision: Decision,
  state: IngotState,
  plan: Plan,
  units: ChatUnits,
): RankedLine[] {
  const said =
    decision.undone.length === 0 && decision.entries.some(({ fact }) => fact?.kind === "crack");
  const crack = state.cracks.at(-1);
  if (!said || crack === undefined) return [];
  const piece = pieceNow(state);
  const meanTempC = state.heats.at(-1)?.value.temperatureC;
  const advice = crackAdvice({
    crack: crack.value as Parameters<typeof crackAdvice>[0]["crack"],
    plan,
    route: plan.routes[0],
    ...(piece === undefined ? {} : { piece }),
    ...(meanTempC === undefined ? {} : { meanTempC }),
  });
  if (advice === undefined) return [];
  return [
    { rank: RANK.verdict, text: verdictWords(advice, units) },
    { rank: RANK.hold, text: causeWords(advice) },
  ].filter(({ text }) => text !== "");
}

function verdictWords(advice: CrackAdvice, units: ChatUnits): string {
  const mass = formatMass(advice.grooveG, units);
  const groove = `groove ${formatLength(advice.grooveDepthMm, units)} deep${/^0 /.test(mass) ? "" : `, ${mass}`}`;
  const left =
    advice.spareAfterG >= 0
      ? `${formatMass(advice.spareAfterG, units)} to spare then`
      : `${formatMass(-advice.spareAfterG, units)} short then`;
  const usual = advice.guessed ? " (usual size taken)" : "";
  switch (advice.verdict) {
    case "take-out":
      return `Take it out now: ${groove}, ${left}${usual}`;
    case "carry-to-tang":
      return `It can go into the tang: leave it, keep the join clear${usual}`;
    case "carry-to-cut-end":
      return `It goes with the end that is cut off: leave it${usual}`;
    case "stop":
      return `⚠ Stop: too deep to take out, ${formatLength(advice.sectionLeftMm, units)} would be left${usual}`;
    case "watch":
      return `Watch it: left, it grows to ${formatLength(advice.nextLengthMm, units)} long${usual}`;
  }
}

const CHECK: Readonly<Record<CheckFirst, string>> = {
  temperature: "check the temperature first",
  "cold-shut": "check for a cold shut first",
  bite: "check the bite first: too hard a squeeze",
  pipe: "the pipe opens there",
};

function causeWords({ inPipeZone, checkFirst }: CrackAdvice): string {
  const where =
    inPipeZone === undefined
      ? ""
      : inPipeZone
        ? "In the pipe zone, as expected"
        : "Outside the pipe zone";
  const check = checkFirst === undefined ? "" : CHECK[checkFirst];
  const words = [where, check].filter((part) => part !== "").join(": ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
