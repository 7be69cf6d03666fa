/** How far back a view looks. Older ingots are found by name; older messages come up as later ones are taken back. */
export const VIEW_LIMITS = { names: 20, turns: 10 } as const;
