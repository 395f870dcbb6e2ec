import {
  type Burst,
  paused,
  type Rules,
  type Scan,
  type Step,
  scanOf,
  stroke,
  WEDGE,
} from './scanner.ts'

/**
 * How long after the last key a burst without an end is given back as typing. Longer than a
 * scanner's gap, since a busy page hears of keys late while their time stamps are right.
 */
const GIVE_BACK_MS = 120
/** Fields that keys write into. */
const TYPED = ['text', 'search', 'tel', 'url', 'email', 'password', 'number', 'textarea']

type Field = HTMLInputElement | HTMLTextAreaElement
/** A text field as it was before the first key of a burst. */
type Before = {
  readonly field: Field
  readonly value: string
  readonly from: number | null
  readonly to: number | null
}

/**
 * Listens for a hand scanner on a whole page, ahead of everything on it.
 * @returns stops listening
 */
export function listenForScans(
  page: Window,
  onScan: (scan: Scan) => void,
  rules: Rules = WEDGE,
): () => void {
  let burst: Burst | null = null
  let before: Before | null = null
  let timer = 0

  const take = (step: Step) => {
    if (step.release !== '') typeInto(before, step.release)
    if (step.scan !== null) putBack(before)
    burst = step.burst
    page.clearTimeout(timer)
    if (burst !== null) timer = page.setTimeout(giveBack, GIVE_BACK_MS)
    if (step.scan !== null) onScan(scanOf(step.scan))
  }
  const giveBack = () => take(paused(burst, page.performance.now(), rules))
  const onKeyDown = (event: KeyboardEvent) => {
    const step = stroke(burst, strokeOf(event), rules)
    if (step.swallow) {
      event.preventDefault()
      event.stopImmediatePropagation()
    }
    take(step)
    if (step.starts) before = fieldBefore(event.target)
  }

  page.addEventListener('keydown', onKeyDown, { capture: true })
  return () => {
    page.clearTimeout(timer)
    page.removeEventListener('keydown', onKeyDown, { capture: true })
  }
}

const strokeOf = (event: KeyboardEvent) => ({
  key: event.key,
  atMs: event.timeStamp,
  isRepeat: event.repeat,
  isCombined: event.ctrlKey || event.altKey || event.metaKey || event.isComposing,
})

function fieldBefore(target: EventTarget | null): Before | null {
  if (!(target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement)) return null
  if (target.readOnly || target.disabled || !TYPED.includes(target.type)) return null
  const { value, selectionStart, selectionEnd } = target
  return { field: target, value, from: selectionStart, to: selectionEnd }
}

/** Takes the first key of a scan out of the field again. */
function putBack(before: Before | null): void {
  if (before === null || before.field.value === before.value) return
  const { field, value, from, to } = before
  field.value = value
  if (from !== null) field.setSelectionRange(from, to)
  tell(field)
}

/** Types what was held, where the caret is. Number fields have no caret: there it goes to the end. */
function typeInto(before: Before | null, text: string): void {
  if (before === null) return
  const { field } = before
  const { selectionStart, selectionEnd } = field
  if (selectionStart === null || selectionEnd === null) field.value += text
  else field.setRangeText(text, selectionStart, selectionEnd, 'end')
  tell(field)
}

/** Whoever draws the field hears of it as of a key. */
function tell(field: Field): void {
  field.dispatchEvent(new InputEvent('input', { bubbles: true }))
}
