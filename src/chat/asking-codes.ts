/**
 * Which buttons only ask. Pressing one of these again asks again; every other button of a reply does
 * its thing once, however often it is pressed or delivered.
 */
export const ASKING_PREFIX = "q:";

export function onlyAsks(code: string): boolean {
  return code.startsWith(ASKING_PREFIX);
}
