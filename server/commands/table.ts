/**
 * What each command takes: the one source for reading arguments, for the help, for what shells complete and for the
 * manual page.
 */

export interface OptionSpec {
  readonly type: 'string' | 'boolean';
  readonly short?: string;
  readonly multiple?: true;
  /** What the help writes in place of its value. */
  readonly value?: string;
  /** All that it takes, where that is some words. */
  readonly words?: readonly string[];
  /** Its value is the name of one. */
  readonly names?: 'file' | 'folder';
  readonly text: string;
}

export interface CommandSpec {
  /** Each way to call it. */
  readonly usage: readonly string[];
  readonly text: string;
  /** What its words are that are no options. */
  readonly names: 'file' | 'folder' | 'rule' | 'family' | 'topic' | 'command' | 'shell' | 'none';
  readonly options: Readonly<Record<string, OptionSpec>>;
}

const severities = ['error', 'warning', 'info', 'hint'] as const;
const footage = (beside: 'sheet' | 'spec', of: string) =>
  ({
    type: 'string',
    value: 'DIR',
    names: 'folder',
    text: `where the clips of ${of} lie on this machine (footage/ beside the ${beside})`,
  }) as const;
const output = (text: string) => ({ type: 'string', short: 'o', value: 'FILE', names: 'file', text }) as const;

export const table = {
  begin: {
    usage: ['begin [FOLDER]', 'begin --like SPEC [FOLDER]'],
    text:
      'ask what a new film needs, and write its kit and its first spec (this folder where none is given); nothing that is ' +
      'there is written over. Each option answers its question beforehand',
    names: 'folder',
    options: {
      title: { type: 'string', value: 'NAME', text: 'what the film is called' },
      kit: { type: 'string', value: 'PATH', names: 'file', text: 'of those that are there, or first, own or none' },
      camera: { type: 'string', value: 'KIND', text: 'phone, zoom or prime, of a kit of your own' },
      sensor: { type: 'string', value: 'SIZE', text: 'of a kit of your own' },
      light: { type: 'string', value: 'KIND', text: 'panel, bulb or none, of a kit of your own' },
      region: { type: 'string', value: 'REGION', text: 'DE, 50 Hz, JP 60 Hz' },
      yes: { type: 'boolean', short: 'y', text: 'what is usual for all that no option says' },
      like: {
        type: 'string',
        value: 'SPEC',
        names: 'file',
        text:
          'everything as in that film, but for --title, --client, --size and --day: all days of the plan move with the ' +
          'first. The new spec lies beside it, or in FOLDER',
      },
      client: { type: 'string', value: 'NAME', text: 'with --like: who it is for' },
      size: { type: 'string', value: 'SIZE', text: 'with --like: how large the product is, wide x deep x high' },
      day: { type: 'string', value: 'DATE', text: 'with --like: the first day of shooting' },
    },
  },
  check: {
    usage: ['check [PATH…]'],
    text:
      'check specs, kits and settings; folders are searched (this one where no PATH is given), patterns such as ' +
      "'films/**' looked up; - is standard input",
    names: 'file',
    options: {
      format: {
        type: 'string',
        value: 'FORMAT',
        words: ['text', 'json', 'github', 'sarif', 'junit', 'gitlab'],
        text: 'text, json, github, sarif, junit or gitlab (text)',
      },
      output: output('write it there instead of printing it'),
      'fail-on': {
        type: 'string',
        value: 'SEVERITY',
        words: severities,
        text: 'mildest finding that makes the exit code 1: error, warning, info or hint (error, or `fail-at` of shootspec.yaml)',
      },
      'max-warnings': { type: 'string', value: 'N', text: 'more warnings than this make it 1 too' },
      quiet: {
        type: 'boolean',
        short: 'q',
        text: 'only the findings that make it 1, and nothing where there are none',
      },
      fix: { type: 'boolean', text: 'make the safe fixes in the files, then check' },
      'dry-run': { type: 'boolean', text: 'show what --fix would change, as a diff, and change nothing' },
      baseline: { type: 'string', value: 'FILE', names: 'file', text: 'findings that FILE knows do not count' },
      'write-baseline': { type: 'boolean', text: 'write all that is found now into that file' },
      threads: { type: 'string', value: 'N', text: 'at most so many at once (one for each core)' },
      today: {
        type: 'string',
        value: 'DATE',
        text: 'judge take sheets as of that day: what is still to be shot before the product goes back',
      },
      footage: footage('sheet', 'take sheets'),
      masters: {
        type: 'string',
        value: 'DIR',
        names: 'folder',
        text: 'where what was exported lies (masters/ beside the sheet)',
      },
      decode: {
        type: 'boolean',
        text: 'look at sound and picture, too: loudness, flashes, pulses, cuts (needs ffmpeg)',
      },
      watch: { type: 'boolean', text: 'check again after each change' },
      'stdin-name': { type: 'string', value: 'PATH', names: 'file', text: 'with -: check it as if it were that file' },
    },
  },
  format: {
    usage: ['format [PATH…]'],
    text:
      'lay files out: indentation, and blanks between words; words, their order, comments and columns stay. Folders are ' +
      'searched (this one where no PATH is given); - is standard input, which is printed as it would be',
    names: 'file',
    options: {
      check: { type: 'boolean', text: 'change nothing, name what would be changed, and make the exit code 1 for it' },
      quiet: { type: 'boolean', short: 'q', text: 'name nothing' },
    },
  },
  compare: {
    usage: ['compare OLD NEW', 'compare REVISION [REVISION] [PATH…]'],
    text:
      'what changed in the plan: of two files, or REVISION:PATH of a git repo; or of a git revision and the files as they ' +
      'are now (or another revision)',
    names: 'file',
    options: {
      format: {
        type: 'string',
        value: 'FORMAT',
        words: ['text', 'markdown', 'html', 'json'],
        text: 'text, markdown, html or json (text); html shows each shot that looks otherwise, as lit, before and after',
      },
      pictures: {
        type: 'string',
        value: 'DIR',
        names: 'folder',
        text: 'with markdown: puts these pictures there and shows them',
      },
      'fail-on': {
        type: 'string',
        value: 'SEVERITY',
        words: severities,
        text: 'new findings that make the exit code 1 (none)',
      },
      output: output('write it there instead of printing it'),
    },
  },
  rules: {
    usage: ['rules [FAMILY…]'],
    text: 'list the rules, all of them or those of some families',
    names: 'family',
    options: { format: { type: 'string', value: 'FORMAT', words: ['text', 'json'], text: 'text or json (text)' } },
  },
  explain: { usage: ['explain RULE'], text: 'print the page of a rule', names: 'rule', options: {} },
  compute: {
    usage: ['compute [TOPIC KEY=VALUE…]'],
    text:
      'work out one thing, with its formula and source: `compute mired from=3200K to=5600K`; alone it lists what can be ' +
      'computed, `compute TOPIC --help` says what one takes',
    names: 'topic',
    options: {
      format: { type: 'string', value: 'FORMAT', words: ['text', 'json'], text: 'text or json (text)' },
      json: { type: 'boolean', text: 'the same as --format json' },
    },
  },
  sheet: {
    usage: ['sheet SPEC -o FILE'],
    text: 'a sheet to take on set, .html or .pdf',
    names: 'file',
    options: {
      output: output('where it goes'),
      paper: {
        type: 'string',
        value: 'SIZE',
        words: ['a4', 'letter'],
        text: 'a4 or letter (as is usual in the region)',
      },
      for: {
        type: 'string',
        value: 'WHOM',
        words: ['set', 'client'],
        text:
          'set: a page for a phone or a tablet on the set, without network: set-ups in the order of the day, takes noted as ' +
          'they are made, and the take sheet handed out; client: the plan in plain words for the client, .html or .pdf: what ' +
          'they get and when, pictures of each shot, what is still open with room to answer, and an estimate (`fees` in the ' +
          'settings)',
      },
    },
  },
  draw: {
    usage: ['draw SPEC --view NAME'],
    text: 'one picture as SVG',
    names: 'file',
    options: {
      view: {
        type: 'string',
        value: 'NAME',
        words: ['set-above', 'set-side', 'frame', 'sketch', 'colour', 'timeline', 'budgets', 'taken'],
        text: 'set-above, set-side, frame, sketch, colour, timeline, budgets, or taken (what is shot and what is missing)',
      },
      shot: { type: 'string', value: 'NAME', text: 'which one (the first)' },
      deliverable: { type: 'string', value: 'NAME', text: 'which one (the first)' },
      output: output('write it there instead of printing it'),
      as: {
        type: 'string',
        value: 'WAY',
        words: ['lines', 'lit'],
        text:
          'lit: the frame with its light as the camera will see it, reckoned from the plan; FILE may end in .png then ' +
          '(lines)',
      },
      width: { type: 'string', value: 'PIXELS', text: 'of a .png (1920)' },
    },
  },
  assemble: {
    usage: ['assemble SPEC -o FILE'],
    text: 'put the film together from its takes, .mp4, .mov or .webm; what has no take yet is drawn (needs ffmpeg)',
    names: 'file',
    options: {
      output: output('where it goes'),
      deliverable: {
        type: 'string',
        multiple: true,
        value: 'NAME',
        text: 'which one (the first); given more than once each becomes FILE-NAME',
      },
      shot: { type: 'string', value: 'NAME', text: 'only the pieces of that shot' },
      from: { type: 'string', value: 'TIME', text: "only that stretch of the film: '14 beats', '3 s', '40 frames'" },
      to: { type: 'string', value: 'TIME', text: 'where that stretch ends' },
      draft: { type: 'boolean', text: "half as large and quick; what can't be used is drawn" },
      'dry-run': { type: 'boolean', text: 'say what would be made, and make nothing' },
      footage: footage('spec', 'the take sheets'),
      threads: {
        type: 'string',
        value: 'N',
        text: 'for the encoder; the same number gives the same bytes (one for each core)',
      },
    },
  },
  'hand-over': {
    usage: ['hand-over SPEC --as KIND -o FILE'],
    text: 'the film for another program',
    names: 'file',
    options: {
      as: {
        type: 'string',
        value: 'KIND',
        words: ['otio', 'edl', 'webvtt', 'calendar', 'csv', 'json'],
        text: 'otio or edl (an editing program), webvtt (captions), calendar, csv (a spreadsheet), json (a script)',
      },
      output: output('write it there instead of printing it'),
      deliverable: { type: 'string', value: 'NAME', text: 'which one (the first), for otio, edl and webvtt' },
      what: {
        type: 'string',
        value: 'TABLE',
        words: ['shots', 'packing', 'takes'],
        text: 'shots, packing or takes, for csv (shots)',
      },
      zone: {
        type: 'string',
        value: 'NAME',
        text: "the time zone of the schedule's hours, such as Europe/Lisbon, for calendar (this machine's)",
      },
      footage: footage('spec', 'the take sheets'),
    },
  },
  letter: {
    usage: ['letter SPEC [NAME…]'],
    text:
      'letters in plain English that ask for what the film still has no paper for (or for these names under `rights` alone): ' +
      'what, where shown, for how long, with blanks where the plan says nothing; no legal advice',
    names: 'file',
    options: {
      output: {
        type: 'string',
        short: 'o',
        value: 'FOLDER',
        names: 'folder',
        text: 'write NAME.letter.md there for each; nothing that is there is written over',
      },
    },
  },
  cards: {
    usage: ['cards SHEET… --card DIR --copy DIR --copy DIR'],
    text:
      'which cards may be wiped: those of which two copies on two other drives have every byte (SHA-256), with every clip ' +
      'that the take sheets name. Whatever is not sure is no; nothing is deleted',
    names: 'file',
    options: {
      card: {
        type: 'string',
        multiple: true,
        value: 'DIR',
        names: 'folder',
        text: 'a card; more than one may be given',
      },
      copy: {
        type: 'string',
        multiple: true,
        value: 'DIR',
        names: 'folder',
        text: 'where the cards are copied to; two',
      },
    },
  },
  kit: {
    usage: ['kit CLIP…'],
    text: "draft a kit's camera from clips that it recorded, or from a folder of them",
    names: 'file',
    options: {
      camera: { type: 'string', value: 'NAME', text: 'what the kit calls it (cam)' },
      output: output('a new file, .kit.yaml, instead of printing it'),
    },
  },
  serve: {
    usage: ['serve --stdio'],
    text: 'run the language server, which an editor starts and talks to',
    names: 'none',
    options: {
      stdio: { type: 'boolean', text: 'over standard input and output' },
      socket: { type: 'string', value: 'PORT', text: 'over that port of this machine' },
      pipe: { type: 'string', value: 'NAME', text: 'over a pipe of that name' },
    },
  },
  completion: {
    usage: ['completion SHELL'],
    text: 'print what makes bash, zsh, fish or powershell complete these words',
    names: 'shell',
    options: {},
  },
  help: { usage: ['help [COMMAND]'], text: 'what a command takes', names: 'command', options: {} },
  version: { usage: ['version'], text: 'the number of this version', names: 'none', options: {} },
} as const satisfies Readonly<Record<string, CommandSpec>>;

export type CommandName = keyof typeof table;

export const commandNames = Object.keys(table) as readonly CommandName[];

export const shells = ['bash', 'zsh', 'fish', 'powershell'] as const;

/** What the manual page says at its end. */
export const closing = {
  files: 'Files that `.gitignore` or `.shootspecignore` name are left out where folders are searched.',
  codes: '0 clean, 1 findings at or above the threshold, 2 wrong usage, a crash, or something that could not be done.',
} as const;
