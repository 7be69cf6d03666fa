/** The part of the ODE library that the cooling test uses; its package ships sources that our strictness refuses. */
export class Solver {
  constructor(dimensions: number);
  absoluteTolerance: number;
  relativeTolerance: number;
  denseOutput: boolean;
  solve(
    derivative: (x: number, y: number[]) => number[],
    x0: number,
    y0: number[],
    xEnd: number,
    each?: (
      n: number,
      x0: number,
      x1: number,
      y: readonly number[],
      at: (i: number, x: number) => number,
    ) => boolean | undefined,
  ): { y: number[] };
}
