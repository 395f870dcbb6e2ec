import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import type { Printer } from '../../machines/contract/printing.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { printLabelAt } from '../device/printing.ts'
import { usePrinting } from '../device/usePrinting.ts'
import { cupView } from '../lanes/cups.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { CodeWidth } from '../ui/codeWidth.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'
import { type HandCopy, handCopyOf, sheetOfCup } from './cups.ts'
import { NetworkPrint } from './networkPrint.tsx'
import { MixCautions } from './parts.tsx'

type Props = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly now: number
}

const PRINTERS_EVERY_MS = 1_000
/** What GET draws where nothing is asked for. */
const DIALOG_PAPER: Pick<Printer, 'dpi' | 'symbology'> = { dpi: 203 }
/** A press may be dated back so far without a reason. */
const PRINTED_AGO_MOST_MS = 9 * 60_000

/**
 * A cup's label, large, and what to write on the cup if the label does not print. It is logged when a
 * person says that it is on the cup: only then its use-by is one that somebody can read.
 */
export function CupLabelScreen({ state, id, cup, now }: Props) {
  const { words, link } = useShop()
  const { bench } = words.value
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  const prints = usePrinting(now, PRINTERS_EVERY_MS)
  /** One key prints: where the shop has a printer, this device's own dialog stands back. */
  const printer = prints.printerOf('cup')
  const { dpi, symbology } = printer ?? DIALOG_PAPER
  const paper = symbology === 'datamatrix' ? { dpi, symbology } : { dpi }
  /** The count of prints whose picture could not be loaded: the next print is another picture. */
  const brokenAt = useSignal<number | null>(null)
  // The server is back, or has more: the picture may load now.
  useEffect(() => {
    brokenAt.value = null
  }, [link.value, state.head])
  const copy = handCopyOf(state, id, cup, bench.more)
  const { labelReadsLate, isOff } = cupView(state, id, cup, now)
  const hasPicture = link.value !== 'away' && brokenAt.value !== cup.prints.length
  /** When the label that nobody has answered for yet went to the printer. */
  const printedAt = useSignal<number | null>(null)
  const last = cup.prints.at(-1)
  const isFirst = last === undefined
  const print = async () => {
    // The time shown may be some moments behind what just became of the cup.
    const at = Math.max(now, state.things.cup[id]?.entries.at(-1)?.at ?? now)
    const src = `${labelOf(id)}?copy=next&prints=${cup.prints.length}&at=${at}`
    if (await printLabelAt(src)) printedAt.value = at
    else brokenAt.value = cup.prints.length
  }
  const log = async (how: { readonly at?: number; readonly byHand?: true }) => {
    const { at, ...byHand } = how
    // The label says what it said when it was printed, also if the air has changed since.
    const extra = at !== undefined && now - at < PRINTED_AGO_MOST_MS ? { at } : {}
    if (isTaken(await ask('PrintLabel', { cup: id, ...byHand }, extra))) printedAt.value = null
  }
  return (
    <div class="cup-label" data-cup={id}>
      <h2>
        {bench.label} <span class="digits">{id}</span>
        {copy.copies > 0 && <span class="minor"> {bench.copy(copy.copies)}</span>}
      </h2>
      {labelReadsLate && (
        <div class="acts">
          <Sentence>{bench.late}</Sentence>
          {!printer && (
            <Press act="newLabel" isMain onPress={print}>
              {bench.newLabel}
            </Press>
          )}
        </div>
      )}
      {isOff && (
        <div class="acts">
          <Sentence>{bench.offRatio}</Sentence>
          <a class="button" data-act="pour" href={hashOf('cups', id, 'pour')}>
            {bench.pourIt}
          </a>
        </div>
      )}
      <Answer sending={sending.value} now={now} />
      <NetworkPrint cup={id} {...{ prints, isFirst, labelReadsLate }} />
      <CodeWidth paper={paper} />
      {printedAt.value !== null && (
        <section class="did-print" role="status">
          <p class="sentence">{bench.didPrint}</p>
          <div class="acts">
            <Press
              act="isOnCup"
              isMain
              isOff={sending.value.busy}
              onPress={() => log({ at: printedAt.value ?? now })}
            >
              {bench.isOnCup}
            </Press>
            <Press
              act="didNotPrint"
              onPress={() => {
                printedAt.value = null
              }}
            >
              {bench.didNotPrint}
            </Press>
          </div>
        </section>
      )}
      <div class="acts">
        {hasPicture && printedAt.value === null && (
          <Press
            act="print"
            isMain={isFirst && !printer}
            isOff={sending.value.busy}
            onPress={print}
          >
            {printer ? (
              say.ownDialog
            ) : (
              <span>
                {isFirst ? bench.print : bench.reprint}
                <small>{isFirst ? bench.printSmall : bench.reprintSmall}</small>
              </span>
            )}
          </Press>
        )}
        <a class={isFirst ? 'button' : 'button main'} href={hashOf('cups')}>
          {bench.toCups}
        </a>
        <a class="button" href={hashOf('bench')}>
          {bench.mixAnother}
        </a>
        <a class="button" href={hashOf('scan', id)}>
          {words.value.screens.scan}
        </a>
      </div>
      <div class="label-and-copy">
        {hasPicture && (
          <img
            class="label"
            alt={id}
            // Another copy is another picture: the browser would show the first one again.
            src={`${labelOf(id)}?prints=${cup.prints.length}`}
            onError={() => {
              brokenAt.value = cup.prints.length
            }}
          />
        )}
        <ByHand copy={copy} isAlone={!hasPicture} now={now}>
          {last && <p role="status">{last.byHand ? bench.wasByHand : bench.onCup}</p>}
          {last?.byHand ? null : (
            <Press act="byHand" isOff={sending.value.busy} onPress={() => log({ byHand: true })}>
              {bench.notPrinted}
            </Press>
          )}
        </ByHand>
      </div>
      <MixCautions sheet={sheetOfCup(state, cup)} isActivated={cup.clocks.length > 0} />
    </div>
  )
}

const labelOf = (cup: string) => `/api/labels/cup/${cup}.svg`

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
      : bench.useBy(`${format.value.time(copy.useByMs)} ${format.value.date(copy.useByMs, now)}`)
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
