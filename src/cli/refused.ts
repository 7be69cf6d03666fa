/** Refused with one clear line (exit status 1), or called in a way that no command has (2). */
export class Refused extends Error {
  override readonly name = "Refused";
}
export class Usage extends Error {
  override readonly name = "Usage";
}
