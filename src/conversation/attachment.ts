/** Which file goes out with a reply: the one that was asked for, or the card of a blade that is done. */
import type { Attach } from "../logbook/index.js";
import type { TurnInput } from "./turn-input.js";

export function attachment({ decision, dayLog, heard, incoming }: TurnInput): Attach | undefined {
  const { file } = heard;
  if (file?.kind === "export") return { kind: "export", as: file.as };
  if (file?.kind === "day" && dayLog !== undefined) {
    return { kind: "day", id: dayLog.date, as: file.as };
  }
  if (file?.kind === "card") {
    const asked = decision.questions[0]?.state ?? decision.state;
    return asked === undefined || decision.issues.length > 0
      ? undefined
      : { kind: "card", id: asked.ingotId, as: file.as };
  }
  const done = decision.entries.find(
    ({ fact, messageId }) => fact?.kind === "finish" && messageId === incoming.id,
  );
  return done?.ingotId === undefined ? undefined : { kind: "card", id: done.ingotId, as: "png" };
}
