/** A camera on mains, and a camera with two base sensitivities. */
import { describe, expect, test } from 'vitest';
import { greatestLoads } from '../../server/core/derived/electrical-loads.ts';
import type { Film } from '../../server/core/film.ts';
import { batterySharings } from '../../server/core/derived/supplies.ts';
import { dayPlans } from '../../server/core/derived/schedule.ts';
import { baseIsoFor } from '../../server/core/derived/noise.ts';
import { checkSpec, kits, spec } from '../helpers/workspace.ts';
import { messages } from '../helpers/findings.ts';

const filmOf = (text: string, files = {}) => checkSpec(text, files).film!;
const powered = (by: string) => filmOf(spec(`shots:\n  box: { record: 12 s, camera: { ${by} } }\n`));

describe('a camera', () => {
  test('on mains empties no battery and counts on the circuit', () => {
    const [battery, mains] = [powered('runs-on: battery'), powered('runs-on: mains')];
    const users = (one: Film) => batterySharings(dayPlans(one)[0]!, one, 0.8).flatMap(({ users }) => users);
    expect(users(battery).map(({ device }) => device.name)).toEqual(['cam']);
    expect(users(mains)).toEqual([]);
    expect(greatestLoads(mains).watts - greatestLoads(battery).watts).toBe(9);
  });
});

describe('two base sensitivities', () => {
  const files = {
    'kits/two.kit.yaml': kits['kits/camera.kit.yaml']!.replace('base-iso: 200', 'base-iso: [400, 3200]'),
  };
  const at = (iso: number) =>
    spec(`kit: kits/two.kit.yaml\nshots:\n  box: { record: 12 s, camera: { iso: ${iso} } }\n`);

  test('each counts from itself up', () => {
    const body = filmOf(at(400), files).kit.cameras.get('cam');
    expect([100, 400, 1600, 3200, 6400].map((iso) => baseIsoFor(body, iso))).toEqual([400, 400, 400, 3200, 3200]);
  });

  test('the higher is no noise, and under the lower highlights burn out', () => {
    expect(messages(at(3200), 'iso-off-base', files)).toEqual([]);
    expect(messages(at(320), 'iso-off-base', files)[0]).toContain('under the base of 400');
  });
});
