import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { cupView } from '../lanes/cups.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import { type HandCopy, handCopyOf, sheetOfCup } from './cups.ts'
import { MixCautions } from './parts.tsx'

type Props = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly now: number
}

/** A cup's label, large, and what to write on the cup if the label does not print. */
export function CupLabelScreen({ state, id, cup, now }: Props) {
  const { words, link } = useShop()
  const { bench } = words.value
  const { sending, ask } = useCommands()
  /** The count of prints whose picture could not be loaded: the next print is another picture. */
  const brokenAt = useSignal<number | null>(null)
  // The server is back, or has more: the picture may load now.
  useEffect(() => {
    brokenAt.value = null
  }, [link.value, state.head])
  const copy = handCopyOf(state, id, cup, bench.more)
  const { labelReadsLate } = cupView(state, id, cup, now)
  const hasPicture = link.value !== 'away' && brokenAt.value !== cup.prints.length
  const print = () => void ask('PrintLabel', { cup: id })
  const byHand = () => void ask('PrintLabel', { cup: id, byHand: true })
  return (
    <div class="cup-label" data-cup={id}>
      <h2>
        {bench.label} <span class="digits">{id}</span>
        {copy.copies > 0 && <span class="minor"> {bench.copy(copy.copies)}</span>}
      </h2>
      {labelReadsLate && (
        <div class="acts">
          <Sentence>{bench.late}</Sentence>
          <Press act="newLabel" isMain onPress={print}>
            {bench.newLabel}
          </Press>
        </div>
      )}
      <div class="label-and-copy">
        {hasPicture && (
          <img
            class="label"
            alt={id}
            // Another copy is another picture: the browser would show the first one again.
            src={`/api/labels/cup/${id}.svg?prints=${cup.prints.length}`}
            onError={() => {
              brokenAt.value = cup.prints.length
            }}
          />
        )}
        <ByHand copy={copy} isAlone={!hasPicture} now={now}>
          {cup.prints.at(-1)?.byHand ? (
            <p role="status">{bench.wasByHand}</p>
          ) : (
            <Press act="byHand" isOff={sending.value.busy} onPress={byHand}>
              {bench.notPrinted}
            </Press>
          )}
        </ByHand>
      </div>
      <Answer sending={sending.value} now={now} />
      <div class="acts">
        <a class="button main" href={hashOf('cups')}>
          {bench.toCups}
        </a>
        <Press act="reprint" isOff={sending.value.busy} onPress={print}>
          <span>
            {bench.reprint}
            <small>{bench.reprintSmall}</small>
          </span>
        </Press>
        <a class="button" href={hashOf('bench')}>
          {bench.mixAnother}
        </a>
        <a class="button" href={hashOf('scan', id)}>
          {words.value.screens.scan}
        </a>
      </div>
      <MixCautions sheet={sheetOfCup(state, cup)} isActivated={cup.clocks.length > 0} />
    </div>
  )
}

type ByHandProps = {
  readonly copy: HandCopy
  readonly isAlone: boolean
  readonly now: number
  readonly children: ComponentChildren
}

/** Id, use-by, ratio, hazard: what a marker pen must put on the cup. */
function ByHand({ copy, isAlone, now, children }: ByHandProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { hazards } = copy
  const said = hazards ? [bench.signal(hazards.signal), ...[hazards.words].flat()] : []
  // The isocyanate warning is never left out, nor shown only in another language.
  const isSaid = said.some((word) => word.toUpperCase().includes(bench.isocyanate))
  const ends =
    copy.useByMs === null
      ? bench.noPotLife
      : bench.useBy(`${format.value.time(copy.useByMs)} ${format.value.date(copy.useByMs)}`)
  return (
    <section class="by-hand" data-alone={isAlone ? '' : undefined}>
      <p class="minor">{isAlone ? bench.noPicture : bench.copyByHand}</p>
      <p class="digits hand-id">{copy.id}</p>
      <p class="hand-end">{ends}</p>
      {copy.keepUntilMs !== null && (
        <p class="hand-end">{bench.keepUntil(format.value.timeAndDay(copy.keepUntilMs, now))}</p>
      )}
      <p>
        {copy.name} · <b class="digits">{copy.ratio}</b>{' '}
        {copy.by === 'volume' ? bench.byVolume : bench.byMass}
      </p>
      <p class="hand-hazard">
        {hazards === null
          ? bench.hazardMissing
          : [...said, ...(hazards.isocyanate && !isSaid ? [bench.isocyanate] : [])].join(' · ')}
      </p>
      {children}
    </section>
  )
}
