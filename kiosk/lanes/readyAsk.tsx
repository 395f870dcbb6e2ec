import type { KeepAsk } from '../../machines/cup/keep.ts'
import { keepAsked } from '../../machines/cup/keepAsk.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import { shortLength } from '../units/format.ts'
import * as own from '../words/ready.ts'
import { useOwnWords } from '../words/words.ts'
import type { ReadyAsk } from './readyAsks.ts'

const MINUTE_MS = 60_000
/** What makers print for standing times, min: offered, never assumed. Common practice, no source. */
const USUAL_MIN: readonly number[] = [30, 60, 120, 240, 720]

type Props = {
  readonly state: State
  readonly asks: readonly ReadyAsk[]
  readonly now: number
}

/**
 * From when a film is ready for the work that is due, where neither sheet nor shop says it: one touch,
 * once for a sheet. The work may be pressed all the same.
 */
export function ReadyAsks({ state, asks, now }: Props) {
  if (asks.length === 0) return null
  return (
    <div class="ready-ask">
      {asks.map((ask) => (
        <One key={`${ask.what} ${ask.sheet}`} state={state} ask={ask} now={now} />
      ))}
    </div>
  )
}

function One({ state, ask, now }: Omit<Props, 'asks'> & { readonly ask: ReadyAsk }) {
  const say = useOwnWords(own)
  const { sending, ask: send } = useCommands()
  const { sheet, what } = ask
  const name = contextOf(state, 'sheet', sheet)?.versions.at(-1)?.sheet.name ?? sheet
  const set = (after: number | 'none') =>
    send('SetShopFigure', { sheet, ready: { for: what, after } })
  return (
    <section data-asks={`ready-${what}`} aria-label={say.ask[what](name)}>
      <p>
        <b>{say.ask[what](name)}</b> {say.once}
      </p>
      <div class="acts">
        {USUAL_MIN.map((min) => (
          <Press key={min} act={`ready-${min}`} isOff={sending.value.busy} onPress={() => set(min)}>
            {shortLength(min * MINUTE_MS)}
          </Press>
        ))}
        <Press act="ready-none" isOff={sending.value.busy} onPress={() => set('none')}>
          {say.atOnce}
        </Press>
        <a class="button" data-act="readySheet" href={hashOf('setup', 'sheets', sheet, 'edit')}>
          {say.toSheet}
        </a>
      </div>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}

/** What makers print for mixes without a pot life, days: offered, never assumed. Common practice, no source. */
const USUAL_DAYS: readonly number[] = [1, 3, 7, 30, 90, 180]

/** How long a stored mix keeps, where neither sheet nor shop says it: asked before its first use of a later day. */
export function KeepAsked({ state, cup: id, now }: Omit<Props, 'asks'> & { readonly cup: string }) {
  const cup = contextOf(state, 'cup', id)
  const ask = cup && keepAsked(state, cup, now)
  return ask ? <Keeps state={state} ask={ask} now={now} /> : null
}

function Keeps({ state, ask, now }: Omit<Props, 'asks'> & { readonly ask: KeepAsk }) {
  const say = useOwnWords(own)
  const { sending, ask: send } = useCommands()
  const { sheet, isReduced } = ask
  const name = contextOf(state, 'sheet', sheet)?.versions.at(-1)?.sheet.name ?? sheet
  const says = (isReduced ? say.keepsReduced : say.keeps)(name)
  const set = (days: number | 'unlimited') =>
    send('SetShopFigure', { sheet, keep: { reduced: isReduced, days } })
  return (
    <section class="ready-ask" data-asks="keep" aria-label={says}>
      <p>
        <b>{says}</b> {say.keepOnce}
      </p>
      {/* The word once and the figures alone: with it in each, the keys of one question took three rows. */}
      <div class="acts">
        <b>{say.daysWord}</b>
        {USUAL_DAYS.map((days) => (
          <Press
            key={days}
            act={`keep-${days}`}
            name={say.days(days)}
            isOff={sending.value.busy}
            onPress={() => set(days)}
          >
            {days}
          </Press>
        ))}
        <Press act="keep-unlimited" isOff={sending.value.busy} onPress={() => set('unlimited')}>
          {say.noLimit}
        </Press>
        <a class="button" data-act="keepSheet" href={hashOf('setup', 'sheets', sheet, 'edit')}>
          {say.toSheet}
        </a>
      </div>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
