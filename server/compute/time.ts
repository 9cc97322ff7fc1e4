/** Beats and timecode in frames. */
import { beatFrame, framesPerBeat, tempo as exactTempo } from '../calc/beats.ts';
import { frameToTimecode, hasDropFrame, timecodeText } from '../calc/timecode.ts';
import { rateFps } from '../calc/rate.ts';
import { num } from '../core/say.ts';
import { beatCount, frames as frameNumber, rate, tempo, yesNo } from './quantities.ts';
import { defineTopic, needed, usually } from './topic.ts';

const beatsTopic = defineTopic({
  id: 'beats',
  summary: 'Beats of the music in frames',
  keys: {
    tempo: needed(tempo, 'tempo of the music'),
    rate: needed(rate, 'frames a second of the cut'),
    count: usually(beatCount, '8', 'how many beats; 8 when left out'),
  },
  results: {
    frames_per_beat: { unit: 'frames', meaning: 'one beat', say: (value) => `${num(value, 4)} frames` },
    frames: { unit: '', meaning: 'frame of beat 0, 1, 2 …, where cuts go' },
  },
  formula:
    'frames for each beat = rate × 60 ÷ tempo, kept as a fraction; beat n lies on the frame nearest to n times that, half ' +
    'a frame going up. The list ends with the frame where the last beat ends',
  source: 'arithmetic',
  example: ['tempo=120bpm', 'rate=25', 'count=8'],
  compute({ tempo: bpm, rate: perSecond, count }) {
    const beats = exactTempo(bpm);
    if (beats.num === 0) return { problem: 'A tempo below 0.001 bpm has no beat to count.' };
    const perBeat = framesPerBeat(perSecond, beats);
    return {
      results: {
        frames_per_beat: perBeat.num / perBeat.den,
        frames: Array.from({ length: count + 1 }, (_, beat) => beatFrame(beat, perBeat)),
      },
    };
  },
});

const timecodeTopic = defineTopic({
  id: 'timecode',
  summary: 'Timecode of a frame',
  keys: {
    frames: needed(frameNumber, 'frames since 00:00:00:00'),
    rate: needed({ ...rate, example: '29.97' }, 'frames a second'),
    drop: usually(yesNo, 'no', 'counted drop-frame: yes or no; no when left out'),
  },
  results: { timecode: { unit: '', meaning: 'timecode' } },
  formula:
    'frames counted at the rate rounded up; drop-frame leaves out the first 2 numbers (4 at 59.94) of each minute but ' +
    'every tenth, and is written with ; before the frames',
  source: 'SMPTE ST 12-1',
  example: ['frames=1800', 'rate=29.97', 'drop=yes'],
  compute({ frames, rate: perSecond, drop }) {
    if (drop === 'yes' && !hasDropFrame(perSecond)) {
      return { problem: `There is no drop-frame counting at ${num(rateFps(perSecond), 3)}: only at 29.97 and 59.94.` };
    }
    return { results: { timecode: timecodeText(frameToTimecode(frames, perSecond, drop === 'yes')) } };
  },
});

export const timeTopics = [beatsTopic, timecodeTopic];
