/** How much one run tries; `FUZZ_RUNS` times as much where that is said. DEVELOPERS.md says so, and figures.test.ts sees to it that it says the truth. */
export const figures = {
  spoilt: { pages: 250, pagesGently: 500, samples: 100, samplesGently: 50, besideSpecs: 100 },
  sequencesThroughServer: 100,
  /** At least so many are offered on the spoilt specs, and made. */
  fixes: 200,
  sessions: 6,
  memory: { edits: 1000, openings: 100, mostGrowthMb: 20 },
};
