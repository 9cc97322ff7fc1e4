/** From a checked film to what the page for the set knows of it. */
import { exposureSettings, wantedLux } from '../../core/derived/light.ts';
import { betweenTakesS, dayPlans, takesS } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { SetUpPart } from '../sheet/set-up.ts';
import type { DayOnSet, SetPlan, SetUpOnSet, ShotOnSet } from './plan.ts';

/** @param path of the spec, from the root of its repo */
export function setPlanOf(film: Film, parts: readonly SetUpPart[], path: string): SetPlan {
  const plans = dayPlans(film);
  const days = plans.map(({ day }): DayOnSet => ({
    date: day?.day && say.dateText(day.day.value),
    hours: day?.hours?.value,
  }));
  const setUps = parts.map(({ work, plan, slot }): SetUpOnSet => {
    const takesMinutes = work.shots.reduce((sum, shot) => sum + takesS(shot, film), 0) / 60;
    return {
      name: work.name ?? '',
      day: plan && plans.indexOf(plan),
      buildMinutes: slot ? slot.to - slot.from - takesMinutes : 0,
      shots: work.shots.map((shot) => shotOnSet(shot, film)),
    };
  });
  return { spec: path.split('/').at(-1) ?? path, path, days, setUps };
}

function shotOnSet(shot: Shot, film: Film): ShotOnSet {
  const { camera } = shot;
  const white = camera.whiteBalance?.value;
  return {
    name: shot.name,
    takes: shot.takes,
    takeS: shot.record?.value ?? 0,
    betweenTakesS: betweenTakesS(shot, film),
    camera: camera.body?.name ?? '',
    wantedLux: camera.meter === 'product' ? wantedLux(shot) : undefined,
    meantStops: camera.exposure?.value ?? 0,
    iso: exposureSettings(shot)?.iso,
    whiteBalanceK: typeof white === 'number' ? white : undefined,
    handleS: shot.handlesS,
    actionS: shot.actionS,
    beatS: beatOnSet(shot, film),
  };
}

/** Undefined where there is no tempo, or where pieces play the shot at different speeds. */
function beatOnSet({ pieces }: Shot, { music }: Film): number | undefined {
  const speeds = new Set(pieces.map(({ speed }) => Math.abs(speed)));
  const [speed = 1] = speeds;
  const tempo = music?.tempo?.value;
  return !tempo || speeds.size > 1 || speed === 0 ? undefined : (60 / tempo) * speed;
}
