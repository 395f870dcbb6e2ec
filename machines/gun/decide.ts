import type { CommandData } from '../commands.ts'
import { cupProblems, findCup } from '../cup/find.ts'
import type { Deciding, Decision } from '../deciding.ts'
import { judge } from '../judge.ts'
import { gunProblems, isGunKnown } from './find.ts'
import { loadOf } from './load.ts'

/** Material into a gun: its clock is the cup's, and goes on when the cup is gone. */
export function loadGun(d: Deciding<'LoadGun', CommandData<'LoadGun'>>): Decision {
  const { gun, cup: cupId, override, ...set } = d.data
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
  const keys = { gun, cup: cupId, ...(cup ? { sheet: cup.sheet } : {}) }
  return { facts: [{ type: 'GunLoaded', keys, data: { load, ...set }, marks: verdict.marks() }] }
}

export function cleanGun(d: Deciding<'CleanGun', CommandData<'CleanGun'>>): Decision {
  const { gun, ...data } = d.data
  return { facts: [{ type: 'GunCleaned', keys: { gun }, data }] }
}
