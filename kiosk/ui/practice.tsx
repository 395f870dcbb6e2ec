import { useSignal } from '@preact/signals'
import { wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { practiceOn } from '../device/practiceShop.ts'
import { fetchAllWords } from '../words/words.ts'
import { Sentence } from './answer.tsx'
import { Hold, Toggle } from './buttons.tsx'

type Asked = 'no' | 'asking' | { readonly failed: string }

/** Asks the server once and shows its own sentence for a refusal. */
export function useAsk(path: string, then: (answer: { readonly url?: string }) => void) {
  const { words, format } = useShop()
  const asked = useSignal<Asked>('no')
  const ask = async () => {
    asked.value = 'asking'
    try {
      const response = await fetch(path, { method: 'POST' })
      const answer = await response.json()
      if (!response.ok) await fetchAllWords(words.value.locale)
      if (response.ok) then(answer)
      else
        asked.value = {
          failed: answer.error
            ? wrongText(answer.error, { words: words.value, format: format.value })
            : words.value.practice.notStarted,
        }
    } catch {
      asked.value = { failed: words.value.practice.notStarted }
    }
  }
  return { asked: asked.value, ask: () => void ask() }
}

export function Said({ asked }: { asked: Asked }) {
  const { words } = useShop()
  if (asked === 'no') return null
  return asked === 'asking' ? (
    <p role="status">{words.value.practice.starting}</p>
  ) : (
    <Sentence>{asked.failed}</Sentence>
  )
}

/**
 * Says that nothing here is real; on the Wall also how to start over, and the way back. What has a head and is
 * not the Wall says it there: the work on the screen needs the height.
 */
export function PracticeBar({ isWhole }: { isWhole: boolean }) {
  const { words } = useShop()
  const isOpen = useSignal(false)
  const { asked, ask } = useAsk('/api/practice/again', () => location.reload())
  const practice = practiceOn(document)
  if (!practice) return null
  const { speed, own } = practice
  const said = (
    <>
      <span class="on-wall">{words.value.practice.here(speed)}</span>
      <span class="on-phone">{words.value.practice.hereShort(speed)}</span>
    </>
  )
  if (!isWhole) return <p class="line">{said}</p>
  return (
    <section class="practice-bar" data-open={isOpen.value}>
      <p>
        <b>{said}</b>
      </p>
      <span class="on-phone">
        <Toggle act="practiceKeys" isOpen={isOpen}>
          {words.value.board.moreKeys}
        </Toggle>
      </span>
      <Said asked={asked} />
      <span class="keys">
        {own !== null && (
          <a class="button" href={own}>
            {words.value.practice.leave}
          </a>
        )}
        <Hold onHeld={ask}>{words.value.practice.again}</Hold>
      </span>
    </section>
  )
}
