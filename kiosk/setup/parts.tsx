import { useSignal } from '@preact/signals'
import { BELLS, type BellKind } from '../../machines/bell/kinds.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { POSITION, type Settings } from '../device/settings.ts'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Hold } from '../ui/buttons.tsx'
import { Shape } from '../ui/drawings.tsx'
import { Choice, PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/meanings.ts'
import { setupIn } from '../words/setupIn.ts'
import { useOwnWords } from '../words/words.ts'

/** Its place below Setup. */
export const MEANINGS = 'meanings'

const KINDS = Object.keys(BELLS) as BellKind[]

/** What every bell means: why it rings, what happens if nobody acts, what to do, how much time there is. */
export function Meanings() {
  const meanings = useOwnWords(own)
  return (
    <section class="stack meanings">
      <h2>{meanings.title}</h2>
      <ul>
        {KINDS.map((kind) => {
          const meaning = meanings.of[kind]
          return (
            <li key={kind} data-meaning={kind}>
              <h3 class="bell" data-sound={BELLS[kind].sound}>
                <Shape sound={BELLS[kind].sound} /> {meaning.name}
              </h3>
              <dl>
                {(['action', 'cause', 'consequence', 'time'] as const).map((part) => (
                  <div key={part}>
                    <dt class="minor">{meanings[part]}</dt>
                    <dd>{meaning[part]}</dd>
                  </div>
                ))}
              </dl>
            </li>
          )
        })}
      </ul>
    </section>
  )
}

/**
 * The work position of this kiosk: a bell of that position sounds here at once, others only when
 * nobody answers them. Every bell is shown everywhere.
 */
export function Position({ settings }: { settings: Settings }) {
  const { state, words } = useShop()
  const picked = useSignal(settings.kept(POSITION) ?? '')
  const { zones: names } = words.value
  const setup = setupIn(words.value)
  if (!state.value) return null
  const shop = state.value
  const zones = [...new Set([...knownZones(shop), picked.value].filter((zone) => zone !== ''))]
  return (
    <section class="stack">
      <h2>{setup.position}</h2>
      <Choice
        word={setup.positionWhy}
        picked={picked.value}
        options={['', ...zones].map((zone) => ({
          value: zone,
          word: zone === '' ? setup.wholeShop : zoneWord(shop, names, zone),
        }))}
        onPick={(zone) => {
          picked.value = zone
          settings.keep(POSITION, zone === '' ? null : zone)
        }}
      />
    </section>
  )
}

type Row = { readonly id: string; readonly name: string; readonly about: string }

/** The things of one kind in a shop: a touch on a row changes it. */
export function Rows({ section, rows }: { section: string; rows: readonly Row[] }) {
  const { words } = useShop()
  if (rows.length === 0) return <p class="minor">{setupIn(words.value).none}</p>
  return (
    <ul class="rows setup-rows">
      {rows.map(({ id, name, about }) => (
        <li key={id}>
          <a class="button row" href={hashOf('setup', section, id)}>
            <b>{name}</b>
            {about !== '' && <span class="minor">{about}</span>}
          </a>
        </li>
      ))}
    </ul>
  )
}

/** The head of what is below a list: the way back to it, and what this is. */
export function BackHead({ section, title }: { section: string; title: string }) {
  const setup = setupIn(useWords())
  return <PageHead title={title} back={setup.back} backTo={hashOf('setup', section)} />
}

/** Takes something out of use: it needs a press of one second. */
export function Retire({ onHeld }: { onHeld: () => void }) {
  const { words } = useShop()
  return (
    <div class="retire">
      <Hold onHeld={onHeld}>
        <span>
          {setupIn(words.value).retire}
          <small>{words.value.act.hold}</small>
        </span>
      </Hold>
    </div>
  )
}
