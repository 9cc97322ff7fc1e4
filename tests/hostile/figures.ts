/** How much one run tries; `FUZZ_RUNS` times as much where that is said. DEVELOPERS.md says so, and figures.test.ts sees to it that it says the truth. */
export const figures = {
  spoilt: { pages: 150, pagesGently: 250, samples: 50, samplesGently: 25, besideSpecs: 75 },
  sequencesThroughServer: 60,
  /** At least so many are offered on the spoilt specs, and made. */
  fixes: 100,
  sessions: 6,
  memory: { edits: 600, openings: 60, mostGrowthMb: 20 },
};
