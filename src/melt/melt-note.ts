/** What a reader of a melt's figures must be told. Codes; the words stand in the conversation room. */
export type MeltNote =
  | "material-unknown"
  | "carbon-assumed"
  | "no-metal"
  | "oxide-unsure"
  | "cast-iron"
  | "carbon-low"
  | "more-out-than-in"
  | "yield-low"
  | "not-enough-on-hand"
  | "carbon-out-of-reach"
  | "outside-range";
