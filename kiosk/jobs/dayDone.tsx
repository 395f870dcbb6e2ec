import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { DayAnswer } from '../../machines/contract.ts'
import type { DayCounts } from '../../machines/plan/dayCounts.ts'
import { useShop } from '../commands/shop.ts'
import * as own from '../words/day.ts'
import type { Words } from '../words/en.ts'
import { useOwnWords } from '../words/words.ts'

async function ask(): Promise<DayCounts | 'away'> {
  try {
    const response = await fetch('/api/day')
    return response.ok ? ((await response.json()) as DayAnswer).counts : 'away'
  } catch {
    return 'away'
  }
}

type Say = typeof own.en
type Row = { readonly word: string; readonly said: readonly string[] }

/** What was done, a row a kind; a kind of which there was nothing has none. */
function rowsOf(counts: DayCounts, say: Say, words: Words, volume: (ml: number) => string): Row[] {
  const { coats, material } = counts
  const names: Readonly<Record<string, string>> = words.stage
  const some = (n: number, word: (n: number) => string) => (n > 0 ? [word(n)] : [])
  const rows: Row[] = [
    {
      word: say.parts.coats,
      said: coats.map((one) => say.coats(one.coats, names[one.stage] ?? say.otherCoat)),
    },
    {
      word: say.parts.material,
      said: [
        ...material.map((one) => `${one.name} ${volume(one.totalMl)} (${say.cups(one.cups)})`),
        ...some(counts.discardedCups, say.discarded),
      ],
    },
    { word: say.parts.panels, said: some(counts.passed, say.passed) },
    {
      word: say.parts.again,
      said: [
        ...some(counts.sentBack, say.sentBack),
        ...some(counts.denibbed, say.denibbed),
        ...some(counts.abraded, say.abraded),
        ...some(counts.brokenOff, say.brokenOff),
        ...some(counts.overrides, say.overrides),
      ],
    },
  ]
  return rows.filter(({ said }) => said.length > 0)
}

/** Coats, material and what had to be done again, since midnight. @param head asked again when it moves */
export function DayDone({ head }: { readonly head: number }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const counts = useSignal<DayCounts | 'away' | null>(null)
  useEffect(() => {
    let isWanted = true
    void ask().then((answer) => {
      if (isWanted) counts.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [head])
  const known = counts.value
  if (known === null) return null
  if (known === 'away') return <p class="minor">{say.away}</p>
  const rows = rowsOf(known, say, words.value, format.value.volume)
  return (
    <section class="day-group" data-done>
      <h2>{say.title}</h2>
      {rows.length === 0 && <p class="minor">{say.nothing}</p>}
      <dl class="facts">
        {rows.map(({ word, said }) => (
          <div key={word}>
            <dt class="minor">{word}</dt>
            <dd>{said.join(' · ')}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
