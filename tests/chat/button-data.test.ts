import fc from "fast-check";
import { expect, test } from "vitest";
import { BUTTON_DATA_BYTES, decodeButton, encodeButton } from "../../src/chat/button-data.js";

const replyId = fc.stringMatching(/^[0-9a-z]{1,20}$/);
const code = fc.string({ minLength: 1, maxLength: 40, unit: "binary" });

test("what is encoded is decoded, and fits the wire, or is refused", () => {
  fc.assert(
    fc.property(replyId, code, (id, button) => {
      let data: string;
      try {
        data = encodeButton({ replyId: id, code: button });
      } catch (error) {
        expect(error).toBeInstanceOf(RangeError);
        expect(Buffer.byteLength(`${id}:${button}`)).toBeGreaterThan(BUTTON_DATA_BYTES);
        return;
      }
      expect(Buffer.byteLength(data)).toBeLessThanOrEqual(64);
      expect(decodeButton(data)).toEqual({ replyId: id, code: button });
    }),
    { numRuns: 2000 },
  );
});

test("anything else decodes to nothing or to what encodes back to it", () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 80, unit: "binary" }), (data) => {
      const button = decodeButton(data);
      if (button) expect(encodeButton(button)).toBe(data);
    }),
    { numRuns: 5000 },
  );
});

test("an id of the longest kind and a code of the longest kind fit together", () => {
  const data = encodeButton({ replyId: "z".repeat(20), code: "x".repeat(40) });
  expect(Buffer.byteLength(data)).toBe(61);
});
