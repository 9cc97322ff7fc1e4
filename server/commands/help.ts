/** What each command takes, as `shootspec help` and `shootspec COMMAND --help` print it. */
import { print, UsageError } from './usage.ts';
import { didYouMean } from './suggest.ts';

const sections: Readonly<Record<string, string>> = {
  begin: `  begin [FOLDER]  ask what a new film needs, and write its kit and its first spec (this folder where none is given);
                  nothing that is there is written over
      --title NAME          each option answers its question beforehand
      --kit PATH            of those that are there, or first, own or none
      --camera phone|zoom|prime, --sensor SIZE, --light panel|bulb|none
                            of a kit of your own
      --region REGION       DE, 50 Hz, JP 60 Hz
      --yes, -y             what is usual for all that no option says
`,
  check: `  check [PATH…]   check specs, kits and settings; folders are searched (this one where no PATH is given), patterns such
                  as 'films/**' looked up
      --format FORMAT       text, json, github, sarif, junit or gitlab (text)
      --output FILE, -o     write it there instead of printing it
      --fail-on SEVERITY    mildest finding that makes the exit code 1: error, warning, info or hint
                            (error, or \`fail-at\` of shootspec.yaml)
      --max-warnings N      more warnings than this make it 1 too
      --quiet, -q           only the findings that make it 1, and nothing where there are none
      --fix                 make the safe fixes in the files, then check
      --dry-run             show what --fix would change, as a diff, and change nothing
      --baseline FILE       findings that FILE knows do not count
      --write-baseline      write all that is found now into that file
      --threads N           at most so many at once (one for each core)
      --today DATE          judge take sheets as of that day: what is still to be shot before the product goes back
      --footage DIR         where the clips of take sheets lie on this machine (footage/ beside the sheet)
      --masters DIR         where what was exported lies (masters/ beside the sheet)
      --decode              look at sound and picture, too: loudness, flashes, pulses, cuts (needs ffmpeg)
      --watch               check again after each change
      - --stdin-name PATH   check standard input as if it were that file
`,
  compare: `  compare OLD NEW what changed in the plan: files, or REVISION:PATH of a git repo
  compare REVISION [REVISION] [PATH…]
                  the same for a git revision and the files as they are now (or another revision)
      --format text|markdown|html|json   html shows each shot that looks otherwise, as lit, before and after
      --pictures DIR        with markdown: puts these pictures there and shows them
      --fail-on SEVERITY    new findings that make the exit code 1 (none)
      --output FILE, -o
`,
  rules: `  rules [FAMILY…] list the rules, all of them or those of some families (--format json)
`,
  explain: `  explain RULE    print the page of a rule
`,
  compute: `  compute [TOPIC KEY=VALUE…]
                  work out one thing, with its formula and source: \`compute mired from=3200K to=5600K\`;
                  alone it lists what can be computed, \`compute TOPIC --help\` says what one takes (--json)
`,
  sheet: `  sheet SPEC -o FILE
                  a sheet to take on set, .html or .pdf (--paper a4|letter)
      --for set             a page for a phone or a tablet on the set, without network: set-ups in the order of the
                            day, takes noted as they are made, and the take sheet handed out
      --for client          the plan in plain words for the client, .html or .pdf: what they get and when, pictures of
                            each shot, what is still open with room to answer, and an estimate (\`fees\` in the settings)
`,
  draw: `  draw SPEC --view NAME
                  one picture as SVG: set-above, set-side, frame, colour, timeline,
                  budgets, or taken (what is shot and what is missing)
      --shot NAME, --deliverable NAME, --output FILE, -o
      --as lit              the frame with its light as the camera will see it, reckoned from the plan;
                            FILE may end in .png then (--width PIXELS, 1920)
`,
  assemble: `  assemble SPEC -o FILE
                  put the film together from its takes, .mp4, .mov or .webm; what has no take yet is drawn (needs ffmpeg)
      --deliverable NAME    which one (the first); given more than once each becomes FILE-NAME
      --shot NAME           only the pieces of that shot
      --from TIME, --to TIME
                            only that stretch of the film: '14 beats', '3 s', '40 frames'
      --draft               half as large and quick; what can't be used is drawn
      --dry-run             say what would be made, and make nothing
      --footage DIR         where the clips of the take sheets lie on this machine (footage/ beside the spec)
      --threads N           for the encoder; the same number gives the same bytes (one for each core)
`,
  'hand-over': `  hand-over SPEC --as KIND -o FILE
                  the film for another program: otio or edl (an editing program), webvtt (captions),
                  calendar, csv (a spreadsheet), json (a script)
      --deliverable NAME    which one (the first), for otio, edl and webvtt
      --what TABLE          shots, packing or takes, for csv (shots)
      --zone NAME           the time zone of the schedule's hours, such as Europe/Lisbon, for calendar (this machine's)
      --footage DIR         where the clips of the take sheets lie on this machine (footage/ beside the spec)
`,
  kit: `  kit CLIP…       draft a kit's camera from clips that it recorded, or from a folder of them
      --camera NAME         what the kit calls it (cam)
      --output FILE, -o     a new file, .kit.yaml, instead of printing it
`,
  serve: `  serve --stdio   run the language server, which an editor starts and talks to (or --socket=PORT, --pipe=NAME)
`,
};

const usage = `Usage: shootspec COMMAND

${Object.values(sections).join('')}  help [COMMAND], version

Files that \`.gitignore\` or \`.shootspecignore\` name are left out where folders are searched.
Exit codes: 0 clean, 1 findings at or above the threshold, 2 wrong usage, a crash, or something that could not be done.
`;

export const commandNames: readonly string[] = [...Object.keys(sections), 'help', 'version'];

/** Of one command, or of all, with what is there to decode clips. */
export async function help(name?: string): Promise<number> {
  if (name === undefined || name === 'help' || name === 'version') return print(`${usage}${await decoderText()}`);
  const section = Object.hasOwn(sections, name) ? sections[name] : undefined;
  if (section === undefined) throw noCommand(name);
  return print(`Usage:\n${section.replace(/^ {2}(?=[a-z])/gm, '  shootspec ')}`);
}

async function decoderText(): Promise<string> {
  const { ffmpeg, howToGetFfmpeg } = await import('../footage/decode/ffmpeg.ts');
  const found = await ffmpeg();
  return found
    ? `Sound and picture of clips are decoded by \`${found.path}\`, version ${found.version}.\n`
    : `Sound and picture of clips need \`ffmpeg\` on the path, which is not there. ${howToGetFfmpeg}\n`;
}

export function noCommand(name: string): UsageError {
  return new UsageError(
    `There is no command \`${name}\`.${didYouMean(name, commandNames)} \`shootspec help\` lists them.`,
  );
}

/** Is help asked for among the options? */
export function asksHelp(args: readonly string[]): boolean {
  const end = args.indexOf('--');
  return (end < 0 ? args : args.slice(0, end)).some((arg) => arg === '--help' || arg === '-h');
}
