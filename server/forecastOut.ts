import type { ForecastAnswer } from '../machines/contract.ts'
import { forecastOf } from '../machines/plan/forecast.ts'
import { figuresOf, type Learning, NOTHING_LEARNED } from '../machines/plan/learning.ts'
import type { State } from '../machines/state.ts'
import { learnedFrom } from './learnedFile.ts'
import { stateOfFolder } from './readFolder.ts'

/** `flashbell forecast`: what GET /api/forecast answers, of a folder's log or of a rehearsal. */

export function forecastAnswer(state: State, now: number, learning: Learning): ForecastAnswer {
  const learned = figuresOf(learning)
  const forecast = forecastOf(state, now, { figures: learned })
  return { head: state.head, forecast, learned, behind: 0 }
}

/**
 * The forecast of a shop's log, which is read in a copy: a server may be writing to it meanwhile.
 * @param now UTC ms; a shop whose log is ahead of that is forecast from its last entry on
 * @throws Usable or LogError with a sentence
 */
export async function forecastOfFolder(data: string, now: number): Promise<ForecastAnswer> {
  let learning = NOTHING_LEARNED
  const { state } = await stateOfFolder(data, now, (entry) => {
    learning = learnedFrom(learning, entry)
  })
  return forecastAnswer(state, Math.max(now, state.recordedAt), learning)
}
