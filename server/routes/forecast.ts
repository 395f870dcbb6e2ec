import { join } from 'node:path'
import * as v from 'valibot'
import { check, fields, id8, id40, number, text, whole } from '../../machines/accept.ts'
import { type ForecastAnswer, type LearnedAnswer, wrongAt } from '../../machines/contract.ts'
import { forecastOf } from '../../machines/plan/forecast.ts'
import type { WhatIf } from '../../machines/plan/forecastTypes.ts'
import type { State } from '../../machines/state.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { openLearned } from '../learnedFile.ts'
import { unreadable } from '../problems.ts'
import { followLog } from '../sideIndex/follow.ts'

/** What may be supposed; the numbers come as text. */
const whatIfSchema = fields({
  painters: v.optional(whole(0, 60, 'painters')),
  warmerC: v.optional(number(-40, 40, '°C')),
  zone: v.optional(id40),
  anotherOf: v.optional(id8),
  /** A sheet's id, a colon, and the name of one of its activators. */
  activator: v.optional(text(110)),
})

type Query = Readonly<Record<string, string | undefined>>

const NUMBERS = ['painters', 'warmerC'] as const

function whatIfIn(query: Query, state: State) {
  const numbers = NUMBERS.flatMap((name) => {
    const given = query[name]
    return given === undefined ? [] : [[name, given.trim() === '' ? given : Number(given)] as const]
  })
  const parsed = check(whatIfSchema, { ...query, ...Object.fromEntries(numbers) })
  if (!parsed.ok) return parsed
  const { activator, ...rest } = parsed.value
  if (rest.anotherOf !== undefined && !state.things.panel[rest.anotherOf]) {
    const words = Object.keys(state.things.panel).slice(0, 12)
    return wrongAt('anotherOf', rest.anotherOf, 'oneOf', { words })
  }
  const whatIf: WhatIf = rest
  if (activator === undefined) return { ok: true as const, value: whatIf }
  const [sheet = '', ...name] = activator.split(':')
  const known = state.things.sheet[sheet]?.context.versions.at(-1)?.sheet.activators ?? []
  const words = known.map((one) => `${sheet}:${one.name}`)
  if (!words.includes(activator)) return wrongAt('activator', activator, 'oneOf', { words })
  return { ok: true as const, value: { ...whatIf, activators: { [sheet]: name.join(':') } } }
}

/**
 * GET /api/forecast?painters=&warmerC=&zone=&anotherOf=&activator=: the rest of every panel's route as times,
 * made when it is asked for; what is supposed otherwise than it is comes in the query.
 * GET /api/learned: the shop's own figures that a forecast goes by.
 * @param folder where what was learned is kept; null keeps it in memory
 */
export const forecastRoutes =
  (folder: string | null): Routes =>
  (app, { shops, clock, report }) => {
    const { ownWriter } = shops
    const learned = openLearned(folder && join(folder, 'learned.json'))
    const { behind } = followLog(learned, ownWriter, report)

    only(app, 'GET', '/api/learned', async (c) => {
      const left = await behind()
      const answer: LearnedAnswer = { learned: learned.figures(), behind: left }
      return c.json(answer)
    })

    only(app, 'GET', '/api/forecast', async (c) => {
      const left = await behind()
      const state = ownWriter.state()
      const asked = whatIfIn(c.req.query(), state)
      if ('errors' in asked) return sayWrong(c, asked)
      try {
        const figures = learned.figures()
        const forecast = forecastOf(state, clock.now(), { figures, whatIf: asked.value })
        const answer: ForecastAnswer = {
          ...{ head: state.head, forecast, learned: figures },
          behind: left,
        }
        return c.json(answer)
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })
  }
