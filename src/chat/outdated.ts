/** Words that were delivered out of order: those that took their place came before them. */

interface Words {
  readonly updateId: number;
  /** When they were edited, in the messenger's seconds; absent for the first words of a message. */
  readonly editedS?: number;
}

/** The end of an edit's source key; the update's number orders edits of one second. */
export const editMark = ({ editedS, updateId }: Words): string => `:e${editedS ?? 0}.${updateId}`;

/** `edits`: source keys of the edits of this message that are in the log. */
export function isOutdated({ editedS = -1, updateId }: Words, edits: readonly string[]): boolean {
  return edits.some((edit) => {
    const [, seconds = 0, update = 0] = /:e(\d+)\.(\d+)$/.exec(edit)?.map(Number) ?? [];
    return seconds > editedS || (seconds === editedS && update > updateId);
  });
}
