/** Is a bare figure a temperature? By where it stands and how large it is. */
import { type FactReader, nearDirection, wordsAt } from "./fact-reader.js";
import { TEMP_FROM_C, TEMP_TO_C, TEMP_TO_F } from "./heat-number.js";
import type { Fig } from "./parts.js";

/** Behind `to` a lower figure is a size. Common practice, no source; 100 to 300. */
const COLDEST_TOLD_C = 200;

export function isBareTemperature(r: FactReader, fig: Fig, i: number): boolean {
  const { ledger, parts, context, talk, all } = r;
  const inch = context.units === "inch";
  const { frame } = ledger;
  if (
    fig.dimension === undefined &&
    fig.label === undefined &&
    fig.value >= TEMP_FROM_C &&
    /^(temperature|temp|temps|temperature is|temp is)$/.test(wordsAt(r, i - 1))
  )
    return true;
  const chained = fig.chain !== undefined;
  const bareTemp =
    fig.dimension === undefined &&
    !chained &&
    fig.label === undefined &&
    !fig.inches &&
    !(
      r.direction !== undefined &&
      nearDirection(r, i) &&
      wordsAt(r, i - 1) !== "at" &&
      // No bar is 500 mm thick.
      !(r.direction === "down" && fig.value >= TEMP_FROM_C)
    );
  if (bareTemp && !frame?.kind.match(/^(goal|finish|ingot|melt)$/)) {
    const beside = ledger.heats.length > 0;
    const after = parts[i - 1];
    const at =
      after?.type === "mark" &&
      /^(at|around|about|roughly|to|in at|approx|circa|~|somewhere around|reheated to|back up to|brought up to)$/.test(
        after.words,
      );
    if (
      beside &&
      fig.value >= TEMP_FROM_C &&
      fig.value <= (inch ? TEMP_TO_F : TEMP_TO_C) &&
      ledger.heats[0]?.temperatureC === undefined
    )
      return true;
    // `h6 2450`: asked about as a temperature.
    const numbered = parts[i - 1]?.type === "number of heat" && fig.value > TEMP_TO_C;
    if (beside && numbered && fig.q.whole && ledger.heats[0]?.temperatureC === undefined)
      return true;
    const free = !frame || (wordsAt(r, i - 1) === "at" && /^(removal|crack)$/.test(frame.kind));
    const hottest = inch && (talk.heat || talk.worked) ? TEMP_TO_F : TEMP_TO_C;
    if (!beside && free && fig.value >= TEMP_FROM_C && fig.value <= hottest) {
      // `960 this time, heat 5`; `pulled it at 955`.
      const told = all.some((one) => one.type === "figure" && one.dimension === "temperature");
      const strange = parts.some((one) => one.type === "unknown");
      if (
        !told &&
        (talk.heat || (i === 0 && talk.worked)
          ? i === 0 ||
            /^(at|around|about|roughly|nearly|between|in between)$/.test(wordsAt(r, i - 1))
          : /^(at|back up to|up to)$/.test(wordsAt(r, i - 1)) && !strange)
      )
        return true;
    }
    // `drew h6 to 27`: no temperature.
    const size = wordsAt(r, i - 1) === "to" && fig.value < COLDEST_TOLD_C;
    if (beside && at && !size && r.justHeat && ledger.heats[0]?.temperatureC === undefined)
      return true;
  }
  return false;
}
