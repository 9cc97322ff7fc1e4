/** What a film can be handed over as, and what files of that kind end in. */
export const endings = {
  otio: '.otio',
  edl: '.edl',
  webvtt: '.vtt',
  calendar: '.ics',
  csv: '.csv',
  json: '.json',
} as const;

export type KindName = keyof typeof endings;

export const kindNames = Object.keys(endings) as KindName[];
