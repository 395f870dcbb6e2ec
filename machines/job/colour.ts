import { can } from '../can.ts'
import type { CommandData } from '../commands.ts'
import { broken, wrongFields } from '../contract/wrongField.ts'
import {
  contextThen,
  type Deciding,
  type Decision,
  type NewFact,
  refused,
  unknown,
} from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Step } from '../panel/context.ts'
import { coatsOn, type PanelContext } from '../panel/context.ts'
import { notBeside } from '../plan/blendPlan.ts'
import { settingsAt } from '../shop/settings.ts'
import { deltaE00 } from '../trade/colour.ts'
import { jobFor, panelsOf } from './decide.ts'

/** What a painter decides of a neighbor that was proposed for a blend; why it is left out is kept. */
export function decideBlend(d: Deciding<'DecideBlend', CommandData<'DecideBlend'>>): Decision {
  const { job, ...data } = d.data
  const wrong = notBeside(data)
  if (wrong) {
    const { path, ...rule } = wrong
    const given = path.reduce<unknown>((value, key) => (value as never)[key], data)
    return wrongFields([broken(`data.${path.join('.')}`, given, rule)])
  }
  return ofJob(d, job, { type: 'BlendDecided', data })
}

/** A card of a color beside its panel: how far apart they are at each angle, and the levels of that day. */
export function measureColourCard(
  d: Deciding<'MeasureColourCard', CommandData<'MeasureColourCard'>>,
): Decision {
  const { job, angles, ...card } = d.data
  const problem = unknownColour(d, job, card.colour)
  if (problem) return problem
  const { match, blend } = settingsAt(d.state, d.at).colour ?? {}
  const data = {
    ...card,
    angles: angles.map((one) => ({ ...one, deltaE00: deltaE00(one.panel, one.card) })),
    ...(match === undefined || blend === undefined ? {} : { levels: { match, blend } }),
  }
  return ofJob(d, job, { type: 'ColourCardMeasured', data })
}

/** The card that is sprayed by. That of a let-down panel sets how many midcoats the job's panels take. */
export function chooseColourCard(
  d: Deciding<'ChooseColourCard', CommandData<'ChooseColourCard'>>,
): Decision {
  const { job, ...data } = d.data
  const problem = unknownColour(d, job, data.colour)
  if (problem) return problem
  const cards = contextThen(d, 'job', job)?.cards ?? []
  const own = cards.filter(({ colour }) => colour === data.colour)
  const card = own.find((one) => one.card === data.card)
  if (card === undefined) {
    const known = own.map((one) => one.card)
    return refused(unknown('card', data.card, known))
  }
  const { midcoats } = card
  const routes = midcoats === undefined ? [] : routesWith(d, job, data.colour, midcoats)
  return ofJob(d, job, { type: 'ColourCardChosen', data }, routes)
}

function ofJob(
  d: Deciding,
  job: string,
  fact: Pick<NewFact, 'type' | 'data'>,
  more: readonly NewFact[] = [],
): Decision {
  const found = jobFor(d, job, fact.type, 'open', fact.data)
  if ('decision' in found) return found.decision
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: found.problems })
  if ('refusal' in verdict) return verdict
  return { facts: [{ ...fact, keys: { job }, marks: verdict.marks() }, ...more] }
}

/** A color that the job does not have; one that says none takes any. */
function unknownColour(d: Deciding, job: string, colour: string): Decision | null {
  const keys = contextThen(d, 'job', job)?.colours.map(({ key }) => key) ?? []
  return keys.length === 0 || keys.includes(colour)
    ? null
    : refused(unknown('colour', colour, keys))
}

/** Routes in which the color's midcoats that are still to come are so many. */
function routesWith(d: Deciding, job: string, colour: string, midcoats: number): NewFact[] {
  return panelsOf(d, job).flatMap(({ id, panel, thing }): NewFact[] => {
    const route = panel.route.map((step, i) =>
      isToCome(panel, step, i, midcoats) && step.colour === colour ? counted(step, midcoats) : step,
    )
    const data = { route }
    const isChanged = route.some((step, i) => step !== panel.route[i])
    return isChanged && can(d, 'panel', thing, { type: 'RouteSet', data })
      ? [{ type: 'RouteSet', keys: { job, panel: id }, data }]
      : []
  })
}

const isToCome = (panel: PanelContext, { stage }: Step, i: number, midcoats: number): boolean =>
  stage === 'midcoat' && panel.status[i] !== 'done' && coatsOn(panel, i) <= midcoats

const counted = (step: Step, midcoats: number): Step => ({
  ...step,
  coats: { least: midcoats, planned: midcoats, most: Math.max(midcoats, step.coats?.most ?? 0) },
})
