/** What of a shot's frames is drawn, and how. */
export interface FrameChoice {
  /** Number of the piece in the cut, from 0; all pieces of the shot where it is left out. */
  readonly piece?: number | undefined;
  readonly deliverable?: string | undefined;
  /** Only the recorded pictures, with what each deliverable shows of them. */
  readonly isRecorded?: boolean;
  /** As the camera will see it, with light, in place of lines. */
  readonly isLit?: boolean | undefined;
}
