import * as own from '../words/calculator.ts'
import { useOwnWords } from '../words/words.ts'

/**
 * Keys of 20 mm that type into the field that has the focus: a system's own keyboard is too small
 * for gloves. A phone has its own.
 */

/** Row by row; `<` deletes. */
const KEYS = {
  plain: '7894561230.<',
  signed: '789<456-123.0',
  ratio: '789<456:123+0.%',
} as const

function field(): HTMLInputElement | null {
  const active = document.activeElement
  return active instanceof HTMLInputElement && !active.readOnly ? active : null
}

function type(text: string): void {
  const into = field()
  if (into === null) return
  const { selectionStart, selectionEnd, value } = into
  const end = value.length
  into.setRangeText(text, selectionStart ?? end, selectionEnd ?? end, 'end')
  into.dispatchEvent(new InputEvent('input', { bubbles: true }))
}

function back(): void {
  const into = field()
  if (into === null) return
  const { selectionStart, selectionEnd, value } = into
  const to = selectionEnd ?? value.length
  const from = selectionStart ?? to
  into.setRangeText('', from === to ? Math.max(0, from - 1) : from, to, 'end')
  into.dispatchEvent(new InputEvent('input', { bubbles: true }))
}

const NEXT = '→'

/** To the next field of the form that is still empty; a figure that stands proposed is not asked for. */
function next(): void {
  const from = field()
  const all = [...(from?.form?.querySelectorAll<HTMLInputElement>('input[type=text]') ?? [])]
  const after = from === null ? [] : all.slice(all.indexOf(from) + 1)
  const to = after.find(({ value }) => value === '') ?? after[0]
  to?.focus()
}

type Props = {
  readonly signs?: keyof typeof KEYS
  /** With a key that goes on to the next field. */
  readonly hasNext?: boolean
}

export function Keypad({ signs = 'plain', hasNext = false }: Props) {
  const { keypad } = useOwnWords(own)
  const special: Readonly<Record<string, { name: string; run?: () => void; shows?: string }>> = {
    '<': { name: keypad.back, run: back, shows: '⌫' },
    '.': { name: keypad.point },
    [NEXT]: { name: keypad.next, run: next },
  }
  const key = (sign: string) => {
    const { name = sign, run = () => type(sign), shows = sign } = special[sign] ?? {}
    return (
      <button type="button" key={sign} aria-label={name} data-key={sign} onClick={run}>
        {shows}
      </button>
    )
  }
  return (
    // Holding the pointer's default keeps the focus where it is typed.
    <fieldset
      class="keypad"
      data-wide={signs === 'plain' ? undefined : ''}
      aria-label={keypad.title}
      onPointerDown={(e) => e.preventDefault()}
      onMouseDown={(e) => e.preventDefault()}
    >
      {[...KEYS[signs], ...(hasNext ? [NEXT] : [])].map(key)}
    </fieldset>
  )
}
