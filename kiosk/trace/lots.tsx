import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { LotsAnswer } from '../../machines/contract/genealogy.ts'
import { useShop } from '../commands/shop.ts'
import { Field } from '../forms/fields.tsx'
import { OF } from '../ui/chainLink.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/chain.ts'
import { useOwnWords } from '../words/words.ts'

/** As long after the last letter the server is asked. */
const PAUSE_MS = 200

async function ask(wanted: string): Promise<LotsAnswer | 'away'> {
  try {
    const response = await fetch(`/api/lots?find=${encodeURIComponent(wanted)}`)
    return response.ok ? ((await response.json()) as LotsAnswer) : 'away'
  } catch {
    return 'away'
  }
}

/** The lots that are known, found by a part of their number. */
export function Lots({ now }: { readonly now: number }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const typed = useSignal('')
  const told = useSignal<LotsAnswer | 'away' | null>(null)
  const wanted = typed.value.trim()
  useEffect(() => {
    let isWanted = true
    const asking = setTimeout(async () => {
      const answer = await ask(wanted)
      if (isWanted) told.value = answer
    }, PAUSE_MS)
    return () => {
      isWanted = false
      clearTimeout(asking)
    }
  }, [wanted])
  const is = told.value
  return (
    <>
      <search class="find">
        <Field
          name="lot"
          word={say.find}
          value={typed.value}
          onInput={(text) => {
            typed.value = text
          }}
        />
      </search>
      {is === null && <p class="minor">{say.reading}</p>}
      {is === 'away' && (
        <p class="sentence" role="status">
          {say.away}
        </p>
      )}
      {is !== null && is !== 'away' && (
        <>
          {is.lots.length === 0 && (
            <p class="sentence">{wanted === '' ? say.noLots : say.nothingFound(wanted)}</p>
          )}
          {is.behind > 0 && <p class="sentence">{say.behind(is.behind)}</p>}
          <ul class="rows">
            {is.lots.map(({ lot, component, cups, lastAt }) => (
              <li key={`${lot} ${component}`}>
                <a class="row line button" href={hashOf('trace', OF, 'lot', lot)} data-lot={lot}>
                  <span>
                    <strong>{say.lot(lot)}</strong>
                    <small>
                      {[component ?? '', say.lotCups(cups), format.value.timeAndDay(lastAt, now)]
                        .filter((part) => part !== '')
                        .join(' · ')}
                    </small>
                  </span>
                </a>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  )
}
