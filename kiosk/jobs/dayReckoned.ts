import { type Signal, useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { LearnedAnswer } from '../../machines/contract.ts'
import { forecastOf } from '../../machines/plan/forecast.ts'
import type { Forecast, WhatIf } from '../../machines/plan/forecastTypes.ts'
import type { LearnedFigures } from '../../machines/plan/learning.ts'
import type { State } from '../../machines/state.ts'

/** A plan is made on the device that shows it, behind what is drawn, and at most once a second. */

const EVERY_MS = 1_000
const MINUTE_MS = 60_000

/** What the shop's own work says; null until it is here. Without the server the sheets' own figures stand. */
export function useLearned(): Signal<LearnedFigures | 'away' | null> {
  const learned = useSignal<LearnedFigures | 'away' | null>(null)
  useEffect(() => {
    let isWanted = true
    const take = (answer: LearnedFigures | 'away') => {
      if (isWanted) learned.value = answer
    }
    fetch('/api/learned')
      .then(async (response) =>
        response.ok ? ((await response.json()) as LearnedAnswer).learned : ('away' as const),
      )
      .then(take, () => take('away'))
    return () => {
      isWanted = false
    }
  }, [])
  return learned
}

/**
 * The forecast of a shop, made again when the shop changes or a minute is over.
 * @param whatIf null for none: nothing is made
 */
export function useForecast(
  state: State,
  now: number,
  figures: LearnedFigures | null,
  whatIf: WhatIf | null,
): Forecast | null {
  const made = useSignal<Forecast | null>(null)
  const madeAt = useRef(Number.NEGATIVE_INFINITY)
  useEffect(() => {
    if (figures === null || whatIf === null) {
      made.value = null
      return
    }
    const make = () => {
      madeAt.current = performance.now()
      // The clock of a kiosk may be a moment behind what the server has just recorded.
      made.value = forecastOf(state, Math.max(now, state.recordedAt), { figures, whatIf })
    }
    const wait = Math.max(0, madeAt.current + EVERY_MS - performance.now())
    const timer = setTimeout(make, wait)
    return () => clearTimeout(timer)
  }, [state, Math.floor(now / MINUTE_MS), figures, whatIf])
  return made.value
}
