/** How much one run tries. DEVELOPERS.md says so, and figures.test.ts sees to it that it says the truth. */
export const figures = {
  spoilt: { pages: 9500, pagesGently: 5500, samples: 3000, samplesGently: 1000, besideSpecs: 1000 },
  sequences: { ofPages: 1500, ofSamples: 300, ofLongSpec: 200, throughServer: 4000 },
  /** At least so many are offered on the spoilt specs, and made. */
  fixes: 5000,
  sessions: 50,
  memory: { edits: 10_000, openings: 500, mostGrowthMb: 20 },
};
