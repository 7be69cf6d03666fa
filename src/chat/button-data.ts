/** A button on the wire: the reply it belongs to and its code, in at most 64 bytes. */

/** Most bytes that the messenger carries in a button. */
export const BUTTON_DATA_BYTES = 64;

export interface ButtonData {
  readonly replyId: string;
  readonly code: string;
}

export function encodeButton({ replyId, code }: ButtonData): string {
  const data = `${replyId}:${code}`;
  if (!/^[0-9a-z]{1,20}$/.test(replyId)) throw new RangeError(`reply id is not usable: ${replyId}`);
  if (code === "") throw new RangeError("a button needs a code");
  const bytes = Buffer.byteLength(data);
  if (bytes > BUTTON_DATA_BYTES) {
    throw new RangeError(
      `button data must be <= ${BUTTON_DATA_BYTES} bytes, got ${bytes}: ${data}`,
    );
  }
  return data;
}

/** Undefined for anything that `encodeButton` does not make. */
export function decodeButton(data: string): ButtonData | undefined {
  if (Buffer.byteLength(data) > BUTTON_DATA_BYTES) return undefined;
  const match = /^([0-9a-z]{1,20}):(.+)$/s.exec(data);
  if (match?.[1] === undefined || match[2] === undefined) return undefined;
  return { replyId: match[1], code: match[2] };
}
