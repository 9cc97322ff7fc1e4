/** Milliseconds that the processor has worked for this process: a busy machine makes nothing slow by it. */
export function cpuMs(): number {
  return process.cpuUsage().user / 1000;
}
