/** Somebody is hurt: one line of first aid, whatever else is said. Wording and where it comes from: docs/safety.md. */

const HURT: readonly { readonly says: RegExp; readonly line: string }[] = [
  {
    says: /\b(?:(?:in|got|hit|hurt|burn\w*|splash\w*|spark\w*|scale|chip|grit|dust|something)\b.{0,24}\beyes?\b|eyes? (?:hurts?|burns?|burning|stings?|bleeding)|can'?t see)/i,
    line: "⚠ Eye: do not rub. Rinse with clean water. Stuck, hot or struck: eye doctor now.",
  },
  {
    says: /\b(?:burn(?:t|ed)|burned?|scalded|singed)\b.{0,12}\b(?:my|his|her|the)? ?(?:hand|hands|finger|fingers|thumb|arm|arms|leg|foot|face|skin|myself|himself|herself|palm|wrist)\b/i,
    line: "⚠ Burn: cool running water 20 min, rings off, no ice. Face, hand or large: doctor now.",
  },
  {
    says: /\b(?:cut|sliced|gashed|crushed|smashed|hit|hurt|pinched)\b.{0,12}\b(?:my|his|her) (?:hand|hands|finger|fingers|thumb|arm|leg|foot|palm|wrist|knee|head)\b|\bbleeding\b|\bcut myself\b/i,
    line: "⚠ Stop. Bleeding: press hard, hold it up. Deep, crushed, not stopping: emergency care.",
  },
  {
    says: /\b(?:i feel|i'm|im|i am|feeling|getting) (?:dizzy|sick|faint|light ?headed|drowsy)\b|\b(?:co|carbon monoxide) alarm (?:is |went |goes )?(?:on|off|going|beeping|ringing)\b|\bfumes\b.{0,20}\b(?:head|sick|dizzy)\b/i,
    line: "⚠ Everybody out into fresh air. Headache, dizzy or sick: call the emergency number.",
  },
];

/** The line for what happened, if anything did. */
export const injuryLine = (text: string): string | undefined =>
  HURT.find(({ says }) => says.test(text))?.line;
