import { useSignal } from '@preact/signals'
import { useId } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { Hold, Press } from './buttons.tsx'

type Props = {
  readonly options: readonly { readonly value: string; readonly word: string }[]
  /** @param reason one of the options, or somebody's own words */
  readonly onReason: (reason: string) => void
  /** A reason has to be held for a second: a light touch is none. */
  readonly isHeld?: boolean
}

/** Why: a code by one touch, or one's own words. Nobody has to type with gloves on. */
export function Reasons({ options, onReason, isHeld = false }: Props) {
  const { board, act } = useShop().words.value
  const isOwn = useSignal(false)
  const typed = useSignal('')
  const id = useId()
  const own = typed.value.trim()
  return (
    <div class="reasons">
      {options.map(({ value, word }) => {
        const about = { act: `reason-${value}` }
        const take = () => onReason(value)
        return isHeld ? (
          <Hold key={value} {...about} onHeld={take}>
            <span>
              {word}
              <small>{act.hold}</small>
            </span>
          </Hold>
        ) : (
          <Press key={value} {...about} onPress={take}>
            {word}
          </Press>
        )
      })}
      {!isOwn.value && (
        <Press
          act="ownWords"
          onPress={() => {
            isOwn.value = true
          }}
        >
          {board.ownWords}
        </Press>
      )}
      {isOwn.value && (
        <form
          class="own-words"
          onSubmit={(event) => {
            event.preventDefault()
            if (own !== '' && !isHeld) onReason(own)
          }}
        >
          <span class="field">
            <label class="minor" for={id}>
              {board.ownWordsAsk}
            </label>
            <input
              type="text"
              id={id}
              name="own-words"
              autocomplete="off"
              maxLength={200}
              value={typed.value}
              onInput={(event) => {
                typed.value = event.currentTarget.value
              }}
            />
          </span>
          {isHeld && own !== '' ? (
            <Hold onHeld={() => onReason(own)}>
              <span>
                {board.ownWordsDo}
                <small>{act.hold}</small>
              </span>
            </Hold>
          ) : (
            <button type="submit" class="main" disabled={own === ''}>
              {board.ownWordsDo}
            </button>
          )}
        </form>
      )}
    </div>
  )
}
