import type { CommandData } from '../commands.ts'
import type { Deciding, Decision } from '../deciding.ts'
import { judge } from '../judge.ts'
import { personProblems } from './coatProblems.ts'
import { sprayedAround } from './room.ts'

/** A person moves a zone's air before heat. Whatever is sprayed meanwhile asks for its own time after it. */
export function purgeZone(d: Deciding<'PurgeZone', CommandData<'PurgeZone'>>): Decision {
  const { zone, minutes } = d.data
  return { facts: [{ type: 'ZonePurged', keys: { zone }, data: { minutes } }] }
}

/** A person has found a zone to be clear. Not while a coat is sprayed in it or in what it opens to. */
export function clearZone(d: Deciding<'ClearZone', CommandData<'ClearZone'>>): Decision {
  const { zone, how } = d.data
  const running = sprayedAround(d.state, zone).map(({ id, panel }) => ({
    ...{ code: 'coatRunning' as const, limit: null, value: zone },
    ...{ panel: id, about: panel.name },
  }))
  const problems = [...running, ...personProblems(d)]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  return {
    facts: [{ type: 'ZoneCleared', keys: { zone }, data: { how }, marks: verdict.marks() }],
  }
}
