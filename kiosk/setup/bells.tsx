import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import { type BellFigures, SHARE_AIM } from '../../machines/bell/figures.ts'
import type { BellClass } from '../../machines/bell/kinds.ts'
import type { BellsAnswer } from '../../machines/contract.ts'
import type { State } from '../../machines/state.ts'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import { secondsOrLength } from '../units/format.ts'
import * as own from '../words/figures.ts'
import * as meaningWords from '../words/meanings.ts'
import { useOwnWords } from '../words/words.ts'
import { type Days, daysOf, isFlooded, nameOfSource, PERIODS, rateOf } from './bellView.ts'
import type { SectionProps } from './things.tsx'

type Told =
  | { readonly kind: 'told'; readonly answer: BellsAnswer }
  /** Null where the server did not answer. */
  | { readonly kind: 'not'; readonly error: ToldError | null }

async function ask(days: Days): Promise<Told> {
  try {
    const response = await fetch(`/api/bells?days=${days}`, { cache: 'no-store' })
    const body = (await response.json()) as BellsAnswer & { error?: ToldError }
    if (response.ok) return { kind: 'told', answer: body }
    return { kind: 'not', error: body.error ?? {} }
  } catch {
    return { kind: 'not', error: null }
  }
}

/** How the shop's bells did: how often, how soon answered, what called most, how urgent. */
export function Bells({ state, rest: [asked] }: SectionProps) {
  const { link, words, format } = useShop()
  const say = useOwnWords(own)
  const days = daysOf(asked)
  const told = useSignal<Told | null>(null)
  // Asked again when the log has more, and when the server is back.
  useEffect(() => {
    let isWanted = true
    void ask(days).then((answer) => {
      if (isWanted) told.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [days, state.head, link.value])
  const now = told.value
  const isOld = now?.kind === 'told' && now.answer.days !== days
  return (
    <section class="stack bell-figures" aria-busy={now === null || isOld}>
      <h2>{say.title}</h2>
      <nav class="choices" aria-label={say.title}>
        {PERIODS.map((period) => (
          <a
            class="button"
            key={period}
            data-days={period}
            href={hashOf('setup', 'bells', String(period))}
            aria-current={period === days ? 'page' : undefined}
          >
            {say.days[period]}
          </a>
        ))}
      </nav>
      {now === null || isOld ? (
        <p class="minor">{say.reading}</p>
      ) : now.kind === 'not' ? (
        <div role="alert">
          <p class="sentence">{now.error === null ? say.away : say.unread}</p>
          {now.error && (
            <p class="minor">
              {wrongText(now.error, { words: words.value, format: format.value })}
            </p>
          )}
        </div>
      ) : (
        <Figures answer={now.answer} state={state} />
      )}
    </section>
  )
}

function Figures({ answer: { figures, hasHours }, state }: { answer: BellsAnswer; state: State }) {
  const say = useOwnWords(own)
  if (figures.rang === 0) return <p data-figure="none">{say.nothing}</p>
  return (
    <>
      <div class="figures">
        <HowOften figures={figures} />
        <HowSoon figures={figures} />
        <HowUrgent figures={figures} />
        <Sources figures={figures} state={state} />
      </div>
      <p class="minor">
        {say.once} {hasHours ? say.openHours : say.everyHour}
      </p>
    </>
  )
}

type FigureProps = {
  readonly name: string
  readonly figure: string
  readonly what: string
  readonly children?: ComponentChildren
}

/** One figure, large, with what it is and what is normal. */
const Figure = ({ name, figure, what, children }: FigureProps) => (
  <section class="framed figure" data-figure={name}>
    <p>
      <b class="digits">{figure}</b> {what}
    </p>
    {children}
  </section>
)

/** Good or not in words and by a mark: never by color alone. */
const Verdict = ({ good, children }: { good: boolean; children: ComponentChildren }) => (
  <p class={good ? undefined : 'sentence'} data-good={good}>
    {good && <span aria-hidden="true">✓ </span>}
    {children}
  </p>
)

type Of = { readonly figures: BellFigures }

/** A rate that is not nothing is not shown as nothing. */
const LEAST_SHOWN = 0.1

function HowOften({ figures }: Of) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { number, fullDate, time } = format.value
  const { perPeriod, peak, floodShare, floodsBegun } = figures
  const rate = rateOf(figures)
  return (
    <>
      <Figure
        name="rate"
        figure={perPeriod < LEAST_SHOWN ? `< ${number(LEAST_SHOWN, 1)}` : number(perPeriod, 1)}
        what={say.rate}
      >
        <Verdict good={rate === 'acceptable'}>{say.rateIs[rate]}</Verdict>
        <p class="minor">{say.rateNormal}</p>
      </Figure>
      {peak && (
        <Figure
          name="peak"
          figure={String(peak.rang)}
          what={say.peak(`${fullDate(peak.fromMs)} ${time(peak.fromMs)}`)}
        >
          <p class="minor">{say.peakNormal}</p>
        </Figure>
      )}
      <Figure name="floods" figure={`${number(100 * floodShare, 1)} %`} what={say.floods}>
        <Verdict good={!isFlooded(figures)}>
          {isFlooded(figures) ? say.floodsIs.bad : say.floodsIs.good}
        </Verdict>
        {floodsBegun > 0 && <p>{say.floodMode(floodsBegun)}</p>}
        <p class="minor">{say.floodsNormal}</p>
      </Figure>
    </>
  )
}

/** To the second, then to the nearest minute: these waits are in the past and need no rounding up. */
const waited = (ms: number): string =>
  secondsOrLength(ms < 120_000 ? ms : Math.round(ms / 60_000) * 60_000)

function HowSoon({ figures }: Of) {
  const { medianMs, p95Ms, neverAcknowledged, rang, escalated, held } = figures
  const { format } = useShop()
  const say = useOwnWords(own)
  return (
    <>
      {medianMs === null || p95Ms === null ? (
        <section class="framed figure" data-figure="median">
          <p>{say.noneAcknowledged}</p>
        </section>
      ) : (
        <Figure name="median" figure={waited(medianMs)} what={say.median}>
          <p>{say.p95(waited(p95Ms))}</p>
        </Figure>
      )}
      <Figure
        name="never"
        figure={String(neverAcknowledged)}
        what={say.never(format.value.number(rang, 0))}
      >
        {escalated > 0 && <p>{say.escalated(escalated)}</p>}
        {held > 0 && <p>{say.held(held)}</p>}
        <p class="minor">{say.neverNormal}</p>
      </Figure>
    </>
  )
}

const CLASSES: readonly BellClass[] = ['prompt', 'medium', 'high']

function HowUrgent({ figures: { shares, isHighTooOften } }: Of) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const percent = (share: number) => `${format.value.number(100 * share, 0)} %`
  if (shares === null) return null
  return (
    <section class="framed figure" data-figure="shares">
      <h3>{say.shares}</h3>
      <ul>
        {CLASSES.map((of) => (
          <li key={of} data-share={of}>
            <b class="digits">{percent(shares[of])}</b> {say.share[of]}{' '}
            <span class="minor">({say.shareNormal(percent(SHARE_AIM[of]))})</span>
          </li>
        ))}
      </ul>
      <Verdict good={!isHighTooOften}>{isHighTooOften ? say.highTooOften : say.highFine}</Verdict>
      <p class="minor">{say.sharesNormal}</p>
    </section>
  )
}

function Sources({ figures: { sources }, state }: Of & { readonly state: State }) {
  const say = useOwnWords(own)
  const meanings = useOwnWords(meaningWords)
  return (
    <section class="framed figure" data-figure="sources">
      <h3>{say.sources}</h3>
      <ol>
        {sources.map(({ bell, of, rang }) => (
          <li key={`${bell} ${of?.id}`}>
            <b class="digits">{say.times(rang)}</b> {meanings.of[bell].name}
            {of && (
              <span class="minor">
                {' · '}
                {of.kind === 'cup' ? say.cup(of.id) : nameOfSource(state, of)}
              </span>
            )}
          </li>
        ))}
      </ol>
    </section>
  )
}
