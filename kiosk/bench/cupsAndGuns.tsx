import { useSignal } from '@preact/signals'
import { type Left, leftIn } from '../../machines/cup/left.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop, useUnprinted, useWords } from '../commands/shop.ts'
import { type CupView, cupsOf } from '../lanes/cups.ts'
import { KeepAsked } from '../lanes/readyAsk.tsx'
import { percentLeft, Ring } from '../ui/drawings.tsx'
import { Parts } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { shortLength } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { EmptyForm, LeftForm, PourForm } from './cupForms.tsx'
import { CupLabelScreen } from './cupLabel.tsx'
import { GunList, LoadForm } from './guns.tsx'

/** Every cup and gun with something in it; one cup's label; what is done with one. */
export function CupsAndGuns({ kiosk, rest }: ViewProps) {
  const { state } = useShop()
  const [id, doing, scanned] = rest
  const now = kiosk.reading.value.nowMs
  return (
    <div class="bench">
      <Parts shown="cups" />
      {state.value === null ? (
        <p class="minor">…</p>
      ) : id === undefined ? (
        <Both state={state.value} now={now} />
      ) : (
        <OneCup key={id} state={state.value} {...{ id, doing, scanned, now }} />
      )}
    </div>
  )
}

type OneProps = {
  readonly state: State
  readonly id: string
  readonly doing: string | undefined
  /** The gun whose tag led here. */
  readonly scanned: string | undefined
  readonly now: number
}

function OneCup({ state, id, doing, scanned, now }: OneProps) {
  const { words } = useShop()
  const cup = state.things.cup[id]?.value === 'unmixed' ? undefined : contextOf(state, 'cup', id)
  if (!cup) return <p class="sentence">{words.value.bench.unknownCup(id)}</p>
  const props = { state, id, cup, now }
  switch (doing) {
    case 'pour':
      return <PourForm {...props} />
    case 'load':
      return <LoadForm {...props} scanned={scanned} />
    case 'left':
      return <LeftForm {...props} />
    case 'empty':
      return <EmptyForm {...props} />
    default:
      return <CupLabelScreen {...props} />
  }
}

function Both({ state, now }: { state: State; now: number }) {
  const { bench } = useWords()
  const open = useSignal<string | null>(null)
  const cups = cupsOf(state, now)
  return (
    <div class="cups-and-guns">
      <section>
        <h2>{bench.cups}</h2>
        {cups.length === 0 && (
          <section class="empty">
            <p>{bench.noCups}</p>
            <a class="button main" data-act="mix" href={hashOf('bench')}>
              {bench.mixOne}
            </a>
          </section>
        )}
        <ul class="rows">
          {cups.map((view) => (
            <li key={view.id} class="cup-card" data-cup={view.id}>
              <CupRow
                state={state}
                view={view}
                now={now}
                isOpen={open.value === view.id}
                onTouch={() => {
                  open.value = open.value === view.id ? null : view.id
                }}
              />
              {open.value === view.id && (
                <>
                  <KeepAsked state={state} cup={view.id} now={now} />
                  <CupLinks id={view.id} isOver={view.endsAt !== null && view.endsAt <= now} />
                </>
              )}
            </li>
          ))}
        </ul>
      </section>
      <section>
        <h2>{bench.guns}</h2>
        <GunList state={state} now={now} />
      </section>
    </div>
  )
}

function leftText(
  { ml, isEstimate, isAtMost }: Left,
  bench: Words['bench'],
  volume: (ml: number) => string,
): string {
  if (isAtMost) return bench.atMost(volume(ml))
  if (!isEstimate) return volume(ml)
  return ml === 0 ? bench.shouldBeEmpty : bench.about(volume(ml))
}

type RowProps = {
  readonly state: State
  readonly view: CupView
  readonly now: number
  readonly isOpen: boolean
  readonly onTouch: () => void
}

function CupRow({ state, view, now, isOpen, onTouch }: RowProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { cup, endsAt } = view
  const isUnprinted = useUnprinted().includes(view.id)
  const isOver = endsAt !== null && endsAt <= now
  return (
    <button type="button" class="cup-row" aria-expanded={isOpen} onClick={onTouch}>
      <Ring left={view.left} label={percentLeft(view)} size={72} />
      <span>
        <span>
          <b class="digits">{view.id.slice(0, 4)}</b> {cup.name}
          {cup.colour !== null && ` · ${cup.colour}`}
        </span>
        <small>
          <span class="digits" data-left>
            {leftText(leftIn(state, view.id, cup), bench, format.value.volume)}
          </span>
          {' · '}
          {endsAt === null
            ? view.keepsUntil === null
              ? bench.noPotLife
              : bench.keepUntil(format.value.date(view.keepsUntil, now))
            : isOver
              ? bench.ended(format.value.timeAndDay(endsAt, now))
              : bench.endsAt(format.value.timeAndDay(endsAt, now), shortLength(endsAt - now))}
        </small>
        {view.standsUntil !== null && view.standsUntil > now && (
          <small>{bench.standsUntil(format.value.time(view.standsUntil))}</small>
        )}
        {view.isOff && <strong>{words.value.wall.offRatio}</strong>}
        {isUnprinted ? (
          <strong>{words.value.wall.unprinted}</strong>
        ) : (
          cup.prints.length === 0 && <small>{words.value.wall.noLabel}</small>
        )}
        {view.labelReadsLate && <small>{bench.late}</small>}
      </span>
    </button>
  )
}

/** What can be done with a cup; the buttons that end it are set apart. */
function CupLinks({ id, isOver }: { id: string; isOver: boolean }) {
  const { words } = useShop()
  const { bench } = words.value
  return (
    <>
      <div class="acts">
        <a
          class={isOver ? 'button' : 'button main'}
          data-act="load"
          href={hashOf('cups', id, 'load')}
        >
          {bench.loadGun}
        </a>
        <a class="button" data-act="pour" href={hashOf('cups', id, 'pour')}>
          {bench.pourIt}
        </a>
        <a class="button" data-act="left" href={hashOf('cups', id, 'left')}>
          {bench.whatIsLeft}
        </a>
        <a class="button" data-act="label" href={hashOf('cups', id)}>
          {words.value.act.print}
        </a>
      </div>
      <div class="acts apart">
        <a class="button" data-act="empty" href={hashOf('cups', id, 'empty')}>
          {bench.empty}
        </a>
      </div>
    </>
  )
}
