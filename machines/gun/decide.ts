import type { CommandData } from '../commands.ts'
import { cupProblems, findCup } from '../cup/find.ts'
import { type Deciding, type Decision, thingThen } from '../deciding.ts'
import { judge } from '../judge.ts'
import { gunProblems, holding, isGunKnown } from './find.ts'
import { loadOf } from './load.ts'
import { zoneOfUse } from './zoneOfUse.ts'

/** Material into a gun: its clock is the cup's, and goes on when the cup is gone. */
export function loadGun(d: Deciding<'LoadGun', CommandData<'LoadGun'>>): Decision {
  const { gun, cup: cupId, override, zone, ...set } = d.data
  const cup = findCup(d, cupId)
  const load = loadOf(cupId, cup)
  const problems = [
    // A gun may be loaded during the induction time: only the coat has to wait.
    ...cupProblems(d, cupId, cup, d.at).filter((p) => p.code !== 'inductionNotOver'),
    ...gunProblems(d, gun, load, d.at),
  ]
  const notJudged = isGunKnown(d.state, gun, d.at) ? [] : ['gunHolds']
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems,
    notJudged: new Map([['', notJudged]]),
    override,
  })
  if ('refusal' in verdict) return verdict
  const cupZone = zone ?? (d.isLive && cup ? zoneOfUse(d.state, cup) : undefined)
  const keys = {
    gun,
    cup: cupId,
    ...(cup ? { sheet: cup.sheet } : {}),
    ...(cupZone === undefined ? {} : { zone: cupZone }),
  }
  const data = { load, ...(cupZone === undefined ? {} : { cupZone }), ...set }
  return { facts: [{ type: 'GunLoaded', keys, data, marks: verdict.marks() }] }
}

/**
 * The clock of what was in the gun ends for more of the same product and color. A gun with several
 * materials in it has to be cleaned.
 */
export function rinseGun(d: Deciding<'RinseGun', CommandData<'RinseGun'>>): Decision {
  const { gun: id, zone, ...data } = d.data
  const thing = thingThen(d, { kind: 'gun', id })
  const problems = thing?.value === 'dirty' ? [holding(id, thing.context, null)] : []
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const keys = { gun: id, ...(zone === undefined ? {} : { zone }) }
  return { facts: [{ type: 'GunRinsed', keys, data, marks: verdict.marks() }] }
}

export function cleanGun(d: Deciding<'CleanGun', CommandData<'CleanGun'>>): Decision {
  const { gun, zone, ...data } = d.data
  const keys = { gun, ...(zone === undefined ? {} : { zone }) }
  return { facts: [{ type: 'GunCleaned', keys, data }] }
}
