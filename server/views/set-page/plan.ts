/** What the script of the page for the set knows of the plan: plain data beside the words and pictures of the page. */

export interface SetPlan {
  /** The name of the spec's file, as a take sheet beside it says it. */
  readonly spec: string;
  /** Its path in its repo: what is noted of one film is kept apart from what is noted of another under it. */
  readonly path: string;
  readonly days: readonly DayOnSet[];
  /** In the order of work. */
  readonly setUps: readonly SetUpOnSet[];
}

export interface DayOnSet {
  /** `2026-12-02`. */
  readonly date?: string | undefined;
  /** Minutes since that day's midnight; `to` may lie on the next day. */
  readonly hours?: { readonly from: number; readonly to: number } | undefined;
}

export interface SetUpOnSet {
  readonly name: string;
  /** Its day's place in `days`; undefined where no day has it. */
  readonly day?: number | undefined;
  /** To build it from what stands before it, with cleaning. */
  readonly buildMinutes: number;
  readonly shots: readonly ShotOnSet[];
}

export interface ShotOnSet {
  readonly name: string;
  /** How many are planned, how long one is recorded, and what comes between two. */
  readonly takes: number;
  readonly takeS: number;
  readonly betweenTakesS: number;
  /** The camera in the kit: clips are counted for each. */
  readonly camera: string;
  /** What the settings want on the face; undefined where they are not known, or meter something else. */
  readonly wantedLux?: number | undefined;
  /** How much brighter than that it is meant to be, in stops. */
  readonly meantStops: number;
  readonly iso?: number | undefined;
  readonly whiteBalanceK?: number | undefined;
  /** Still at the start of a take, then what happens. */
  readonly handleS: number;
  readonly actionS?: number | undefined;
  /** A beat of the music in the time of the set: longer than in the film where the film plays the shot faster. */
  readonly beatS?: number | undefined;
}
