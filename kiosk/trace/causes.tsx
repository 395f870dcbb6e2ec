import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { DEFECTS, type Defect } from '../../machines/trace/causes.ts'
import type { Ranked } from '../../machines/trace/rank.ts'
import type { Review } from '../../machines/trace/reviews.ts'
import type { Finding } from '../../machines/trace/signals.ts'
import { causesIn, type Traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { Choice, Fold, worded } from '../ui/parts.tsx'
import { traceIn } from '../words/traceIn.ts'
import { Priors, ReviewCause, type Reviewed, ReviewSaid } from './review.tsx'
import { findingText } from './say.ts'

type OnShow = (entry: string, at: number) => void
const SHOWN_MOST = 5

/** Choose what is wrong and where: what the record says for and against each cause. */
type CausesProps = {
  readonly all: Traced
  /** What people have found of causes of this job. */
  readonly reviews: readonly Review[]
  readonly onShow: OnShow
  readonly now: number
  /** The job, where a cause may be reviewed; not on the page that it is exported as. */
  readonly job?: string | undefined
}

export function Causes({ all, reviews, onShow, now, job }: CausesProps) {
  const trace = traceIn(useShop().words.value)
  const defect = useSignal<Defect | null>(null)
  const panels = all.panels.filter(({ coats }) => coats.length > 0)
  const picked = useSignal<readonly string[]>(panels.length === 1 ? panels.map(({ id }) => id) : [])
  const toggle = (id: string) => {
    picked.value = picked.value.includes(id)
      ? picked.value.filter((one) => one !== id)
      : [...picked.value, id]
  }
  return (
    <section class="stack">
      <h2>{trace.causes}</h2>
      <Choice
        name="panel"
        word={trace.pickPanel}
        picked={picked.value}
        options={panels.map(({ id, name }) => ({ value: id, word: name }))}
        onPick={toggle}
      />
      <Choice
        name="defect"
        word={trace.pickDefect}
        picked={defect.value}
        options={worded(DEFECTS, (one) => trace.defects[one as Defect])}
        onPick={(value) => {
          defect.value = value as Defect
        }}
      />
      {defect.value !== null && picked.value.length > 0 && (
        <Verdict
          key={defect.value}
          {...{ all, reviews, defect: defect.value, panels: picked.value, onShow, now, job }}
        />
      )}
    </section>
  )
}

type VerdictProps = CausesProps & {
  readonly defect: Defect
  readonly panels: readonly string[]
}

function Verdict({ all, reviews, defect, panels, onShow, now, job }: VerdictProps) {
  const priors = useSignal<Readonly<Record<string, number>> | null>(null)
  // What was said just now is in the log, and not in what the page was read from.
  const said = useSignal<readonly Reviewed[]>([])
  const box = useRef<HTMLDivElement>(null)
  // It stands below all that can be wrong: whoever chose one would see nothing change.
  useEffect(() => box.current?.scrollIntoView({ block: 'nearest' }), [])
  const trace = traceIn(useShop().words.value)
  const verdict = causesIn(all, { defect, panels }, priors.value ?? {})
  const supported = verdict.causes.filter((c) => c.verdict === 'supported' || c.id === 'notVisible')
  const others = verdict.causes.filter((c) => !supported.includes(c))
  const looked = [...reviews.filter((one) => one.defect === defect), ...said.value]
  const reviewOf = (cause: string) => {
    const last = looked.findLast((one) => one.cause === cause)
    return last && <ReviewSaid review={last} now={now} />
  }
  const hasMask = Object.values(all.state.things.sheet).some(({ context }) =>
    context.versions.some(({ sheet }) => sheet.hazards?.isocyanate),
  )
  return (
    <div class="stack" data-verdict={defect} ref={box}>
      <p class="sentence">
        {!verdict.decides && `${trace.undecided} `}
        {trace.recorded(`${Math.round(100 * verdict.recordedShare)} %`)}
      </p>
      {verdict.missingLayers.length > 0 && (
        <p class="sentence">
          {trace.missingLayers(verdict.missingLayers.map((one) => trace.layers[one]).join(', '))}
        </p>
      )}
      {supported.length === 1 && <p class="sentence">{trace.noCause}</p>}
      <ol class="stack">
        {supported.slice(0, SHOWN_MOST).map((cause) => (
          <CauseView key={cause.id} cause={cause} onShow={onShow}>
            {reviewOf(cause.id)}
            {job !== undefined && (
              <ReviewCause
                {...{ job, panels, defect, now, cause: cause.id }}
                onSaved={(review) => {
                  said.value = [...said.value, review]
                }}
              />
            )}
          </CauseView>
        ))}
      </ol>
      {job !== undefined && (
        <Priors
          defect={defect}
          again={said.value.length}
          isOwn={priors.value !== null}
          onUse={(own) => {
            priors.value = own
          }}
        />
      )}
      <p>
        <strong>{trace.remedy}:</strong> {trace.remedies[defect]}
      </p>
      <p class="minor">{trace.notProven}</p>
      <p class="minor">{trace.sheetFirst}</p>
      {hasMask && <p class="sentence">{trace.mask}</p>}
      {others.length > 0 && (
        <Fold word={trace.others} act="others">
          {() => (
            <ol class="stack">
              {others.map((cause) => (
                <CauseView key={cause.id} cause={cause} onShow={onShow}>
                  {reviewOf(cause.id)}
                </CauseView>
              ))}
            </ol>
          )}
        </Fold>
      )}
    </div>
  )
}

type CauseProps = {
  readonly cause: Ranked
  readonly onShow: OnShow
  readonly children?: ComponentChildren
}

function CauseView({ cause, onShow, children }: CauseProps) {
  const trace = traceIn(useShop().words.value)
  const { id, verdict, strength, together, speaksFor, against, notRecorded, check } = cause
  if (id === 'notVisible')
    return (
      <li class="sheet-fact" data-cause={id}>
        <h3>{trace.notVisible}</h3>
        <p>{trace.notVisibleWhy}</p>
        {children}
      </li>
    )
  const heading = [trace.signals[id], ...together.map((one) => trace.signals[one])]
  return (
    <li data-cause={id} data-strength={strength}>
      <h3>
        {heading.join(' + ')}
        {verdict === 'supported' ? `: ${trace.strength[strength]}` : ''}
      </h3>
      <Findings word={trace.speaksFor} found={speaksFor} onShow={onShow} />
      <Findings word={trace.against} found={against} onShow={onShow} />
      {notRecorded.length > 0 && (
        <p class="minor">
          {trace.missing}: {notRecorded.map((one) => trace.signals[one]).join(', ')}
        </p>
      )}
      {check !== null && (
        <p>
          <strong>{trace.decide}:</strong> {trace.checks[check]}
        </p>
      )}
      {children}
    </li>
  )
}

/** The worst few: a panel of ten coats says the same thing ten times. */
const FEW = 3

type FindingsProps = {
  readonly word: string
  readonly found: readonly Finding[]
  readonly onShow: OnShow
}

function Findings({ word, found, onShow }: FindingsProps) {
  const { words, format } = useShop()
  const say = { words: words.value, format: format.value }
  if (found.length === 0) return null
  return (
    <div>
      <p class="minor">{word}</p>
      <ul class="rows">
        {found.slice(0, FEW).map((one, i) => (
          <li key={`${one.signal} ${one.entry} ${i}`}>
            <button
              type="button"
              class="row"
              data-finding={one.signal}
              onClick={() => onShow(one.entry, one.at)}
            >
              <span>{findingText(one, say)}</span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  )
}
