/** Takes the bot's token out of any text; a shape like a token goes too, whoever's it is. */
const TOKEN_SHAPE = /\b\d{3,20}:[A-Za-z0-9_-]{20,}\b/g;
export const REDACTED = "[token]";

export function redact(text: string, token: string): string {
  const plain = token === "" ? text : text.replaceAll(token, REDACTED);
  const encoded = encodeURIComponent(token);
  return plain
    .replaceAll(encoded === "" ? REDACTED : encoded, REDACTED)
    .replace(TOKEN_SHAPE, REDACTED);
}
