/** Places on the piece, and the routes that are named by them. */
import { ahead, beginCrack, type FactReader } from "./fact-reader.js";
import { open, put } from "./ledger.js";
import { means } from "./parts.js";

export function routeMark(r: FactReader, route: string | undefined, split: boolean): void {
  const { ledger, parts } = r;
  const body = ledger.bodies.find((one) => one.kind === "route") ?? open(ledger, { kind: "route" });
  if (route !== undefined) put(ledger, body, "route", route);
  if (split) put(ledger, body, "split", true);
  ledger.touched += 1;
  for (const one of parts)
    if (split && one.type === "figure" && one.dimension === undefined && one.value === 2)
      one.used = true;
}

export function placeMark(r: FactReader, where: string, i: number, words: string) {
  const { ledger, parts } = r;
  const frame = ledger.frame;
  const routed = where === "spine" || where === "face" || where === "end";
  if (routed && parts.some((one) => means(one, "kind") === "route"))
    return routeMark(r, where, false);
  if (frame?.kind === "goal" || frame?.kind === "finish") return;
  if (
    where === "tang" &&
    parts[i + 1]?.type === "figure" &&
    frame?.kind !== "crack" &&
    frame?.kind !== "removal"
  )
    return;
  const coming = ahead(parts, i);
  if (frame?.kind === "removal" || frame?.kind === "crack") {
    if (frame.waiting === true) return;
    if (frame.place === undefined) {
      const next = parts[i + 1];
      const and = next?.type === "mark" && /^(and|plus)\b/.test(next.words);
      if (coming?.kind === "crack" && coming.gap <= 2 && frame.kind === "crack" && !and)
        r.place = where;
      else put(ledger, frame, "place", where);
      return;
    }
    if (frame.place === where) return;
    // `a crack on the face and another on the edge`.
    const another = parts
      .slice(Math.max(0, i - 3), i)
      .some((one) => means(one, "say") === "another");
    if (frame.kind === "crack" && another) {
      beginCrack(r).place = where;
      return;
    }
    // `tapered the tang, crack on the tip`: the place before was the working's.
    if (
      frame === r.lent &&
      parts.slice(Math.max(0, i - 3), i).some((one) => means(one, "kind") === "crack")
    ) {
      frame.place = where;
      r.lent = undefined;
      return;
    }
    const lead = parts[i - 1];
    const opens =
      ledger.soft &&
      parts.slice(0, i).every((one) => one.type === "stop" || means(one, "filler") !== undefined) &&
      parts
        .slice(i + 1)
        .some((one) => one.type === "figure" || means(one, "severity") !== undefined);
    const second =
      opens ||
      parts
        .slice(Math.max(0, i - 4), i)
        .some(
          (one) =>
            one.type === "mark" &&
            /^(and|one|the one|and the|and a|also|plus|also a|and one)$/.test(one.words),
        ) ||
      parts
        .slice(Math.max(0, i - 4), i)
        .some((one) => one.type === "figure" && one.q.spoken && one.value === 1);
    if (
      frame.kind === "crack" &&
      second &&
      !(lead?.type === "mark" && /near|towards/.test(lead.words))
    ) {
      for (const one of parts.slice(Math.max(0, i - 4), i))
        if (one.type === "figure" && one.value === 1 && one.label === undefined) one.used = true;
      const next = beginCrack(r);
      next.place = where;
      if (opens) next.justOpened = true;
      if (frame.severity !== undefined && r.severity !== undefined) next.severity = r.severity;
      return;
    }
    ledger.leftovers.push({
      from: i > 0 ? (parts[i]?.from ?? 0) : (parts[i]?.from ?? 0),
      to: parts[i]?.to ?? 0,
    });
    return;
  }
  if (frame?.kind === "ingot" && /top|bottom/.test(words)) return;
  r.place = where;
}
