/** Somebody is hurt: one line of first aid, whatever else is said. Wording and where it comes from: docs/safety.md. */

const HURT: readonly { readonly says: RegExp; readonly line: string }[] = [
  {
    says: /\b(?:in|into) (?:my|his|her|the|one) (?:left |right )?eyes?\b|\b(?:hit|hurt|burnt?|burned|poked) (?:me in )?(?:my|his|her|the) eyes?\b|\beyes? (?:hurts?|burns?|burning|stings?|bleeding)\b|\bsomething in (?:my )?eye\b/i,
    line: "⚠ Eye: do not rub. Rinse with clean water. Stuck, hot or struck: eye doctor now.",
  },
  {
    says: /\b(?:burnt?|burned|scalded|singed)\b.{0,12}\b(?:my|his|her) (?:hands?|fingers?|thumb|arms?|legs?|foot|face|skin|palm|wrist)\b|\b(?:burnt?|burned|scalded) (?:my|him|her)self\b/i,
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
