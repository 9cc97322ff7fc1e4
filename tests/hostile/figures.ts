/** How much one run tries. DEVELOPERS.md says so, and figures.test.ts sees to it that it says the truth. */
export const figures = {
  spoilt: { pages: 500, pagesGently: 1500, samples: 200, samplesGently: 100, besideSpecs: 150 },
  sequencesThroughServer: 250,
  /** At least so many are offered on the spoilt specs, and made. */
  fixes: 400,
  sessions: 12,
  memory: { edits: 1500, openings: 150, mostGrowthMb: 20 },
};
