/** When cards and batteries are changed on a day: take by take, from the bytes and watt-hours that the checks reckon with. */
import { takesBytes } from '../../calc/data.ts';
import type { DayPlan } from '../../core/derived/schedule.ts';
import { batterySharings, cardSharings } from '../../core/derived/supplies.ts';
import { fileS } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { clockText } from '../../core/say.ts';
import { isByTheClock, type TakeSlot, takesOf } from './clock.ts';

/** Shares of what is marked that are counted on, as the rules do where no setting says another. */
const usable = { card: 0.95, battery: 0.8 };

export interface Swap {
  readonly shot: Shot;
  /** Before this take, from 1. */
  readonly take: number;
  /** Minutes of the day, where its hours are known. */
  readonly at?: number | undefined;
  readonly words: string;
}

/** `About 10:40, before take 3 of lid: new battery in cam`. */
export function swapText(swap: Swap): string {
  const { shot, take, words } = swap;
  const before = `before take ${take} of ${shot.name}: ${words}`;
  return swap.at === undefined
    ? before.slice(0, 1).toUpperCase() + before.slice(1)
    : `About ${whenText(swap)}, ${before}`;
}

export function whenText({ at }: Swap): string {
  return at === undefined ? '' : clockText(at);
}

/** In the order of the day. */
export function swapsOf(plan: DayPlan, film: Film): Swap[] {
  const takes = takesOf(plan, film);
  const hasHours = isByTheClock(plan);
  const swap = ({ shot, take, at }: TakeSlot, words: string): Swap => ({
    shot,
    take,
    words,
    ...(hasHours && { at }),
  });
  return [...cardSwaps(plan, film, takes, swap), ...batterySwaps(plan, film, takes, swap)].sort(
    (a, b) =>
      takes.findIndex((one) => one.shot === a.shot && one.take === a.take) -
      takes.findIndex((one) => one.shot === b.shot && one.take === b.take),
  );
}

type Make = (at: TakeSlot, words: string) => Swap;

/** What is left in what is in use, and what lies ready. */
class Stock {
  #ready: number[];
  readonly #left = new Map<string, number>();
  readonly #spent = new Set<string>();

  constructor(private readonly all: readonly number[]) {
    this.#ready = [...all];
  }

  /** One that is in use from the start, such as what is built in. */
  begin(user: string, holds: number): void {
    this.#left.set(user, holds);
  }

  /** All are fresh again. */
  renew(): void {
    this.#ready = [...this.all];
    this.#spent.clear();
    for (const user of this.#left.keys()) this.#left.set(user, this.#ready.shift() ?? 0);
  }

  /** What must be done before so much is taken: nothing, a change, or there is none left, which is said once. */
  take(user: string, amount: number): 'change' | 'none' | undefined {
    const isFirst = !this.#left.has(user);
    const left = this.#left.get(user) ?? this.#ready.shift() ?? 0;
    this.#left.set(user, left - amount);
    if (left >= amount - 1e-9 || this.#spent.has(user)) return undefined;
    const next = this.#ready.shift();
    if (next === undefined) this.#spent.add(user);
    else this.#left.set(user, next - amount);
    return next === undefined ? 'none' : isFirst ? undefined : 'change';
  }
}

function cardSwaps(plan: DayPlan, film: Film, takes: readonly TakeSlot[], swap: Make): Swap[] {
  const offloads = plan.day?.hours ? [...(plan.day.offload ?? [])].map(({ value }) => value).sort((a, b) => a - b) : [];
  return cardSharings(plan, film).flatMap(({ users, supplies }) => {
    const sizes = supplies.flatMap(({ holds, count }) =>
      Array<number>(count).fill((holds?.value ?? Infinity) * usable.card),
    );
    if (sizes.length === 0) return [];
    const stock = new Stock(sizes);
    let emptied = 0;
    return takes.flatMap((one): Swap[] => {
      const { body, mode } = one.shot.camera;
      if (!body || !mode?.bitrate || !users.some(({ name }) => name === body.name)) return [];
      while (offloads[emptied] !== undefined && offloads[emptied]! <= one.at) {
        stock.renew();
        emptied++;
      }
      const bytes = takesBytes(mode.bitrate.value, fileS(one.shot, one.shot.record?.value ?? 0), 1);
      const done = stock.take(body.name, bytes);
      if (!done) return [];
      return [
        swap(
          one,
          done === 'change'
            ? `new card in ${body.name}`
            : `no empty card is left for ${body.name}: copy and empty first`,
        ),
      ];
    });
  });
}

function batterySwaps(plan: DayPlan, film: Film, takes: readonly TakeSlot[], swap: Make): Swap[] {
  return batterySharings(plan, film, usable.battery).flatMap(({ users, supplies }) => {
    const packs = supplies.flatMap(({ energy, count }) =>
      Array<number>(count).fill((energy?.value ?? Infinity) * usable.battery),
    );
    const stock = new Stock(packs);
    const devices = users.map(({ device, needWh }) => {
      if (device.ownWh > 0) stock.begin(device.name, device.ownWh * usable.battery);
      const count = device.shots.reduce((sum, shot) => sum + shot.takes, 0);
      return { device, eachWh: count > 0 ? needWh / count : 0 };
    });
    return takes.flatMap((one) =>
      devices.flatMap(({ device, eachWh }): Swap[] => {
        if (!device.shots.includes(one.shot)) return [];
        const done = stock.take(device.name, eachWh);
        if (!done) return [];
        return [
          swap(
            one,
            done === 'change' ? `new battery in ${device.name}` : `no charged battery is left for ${device.name}`,
          ),
        ];
      }),
    );
  });
}
