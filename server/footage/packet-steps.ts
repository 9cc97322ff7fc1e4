/** The times of the first frames of a clip whose container has no table of times, as WebM and MKV. */
import { EncodedPacketSink, type InputVideoTrack } from 'mediabunny';
import { type Steps, stepsOf } from './steps.ts';

/** Some seconds of any clip: enough to see whether its rate varies. */
const frames = 250;
/** Containers of this kind count milliseconds or finer. */
const ticksPerS = 1_000_000;

export async function packetSteps(track: InputVideoTrack): Promise<(Steps & { readonly isPart: boolean }) | undefined> {
  const sink = new EncodedPacketSink(track);
  const times: number[] = [];
  const options = { metadataOnly: true };
  let packet = await sink.getFirstPacket(options);
  for (; packet && times.length < frames; packet = await sink.getNextPacket(packet, options))
    times.push(packet.timestamp);
  times.sort((a, b) => a - b);
  const steps = times
    .slice(1)
    .map((time, index) => ({ count: 1, ticks: Math.round((time - times[index]!) * ticksPerS) }));
  // The end of the last one is not known: it is left out in any case.
  const found = stepsOf([...steps, { count: 1, ticks: 0 }], [], ticksPerS);
  return found && { ...found, isPart: packet !== null };
}
