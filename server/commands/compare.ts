import { UsageError } from './usage.ts';

export function compare(args: string[]): never {
  throw new UsageError(`Nothing is compared yet: ${args.length}`);
}
