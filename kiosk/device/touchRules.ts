import { signal } from '@preact/signals'
import { CONTROLS, REPEAT_MS, REPEATED } from './controls.ts'

/**
 * What counts as a touch: one finger, not a palm, a rag or a drop of water. Two on the same control
 * within a moment are one press; a finger lifted slightly beside a control still counts.
 */

const CONTACTS_MOST = 2
const CONTACT_MM = 30
const SLIP_MM = 5
/** A browser's own click comes within this time after the finger is lifted. */
const OWN_CLICK_MS = 80
/** Their clicks may still come, on a busy screen. */
const FINGERS_KEPT = 10
/** This many wrong touches within this time mean that somebody is wiping the glass. */
const WIPE_TOUCHES = 10
const WIPE_WITHIN_MS = 5_000

/** Contacts and presses until now. Pure: a value, and the next value after an event. */
export type Touches = {
  readonly down: readonly number[]
  /** A palm lies on the glass: nothing counts until all is lifted. */
  readonly isPalm: boolean
  /** When wrong contacts came, of late. */
  readonly wrong: readonly number[]
}

export const NO_TOUCHES: Touches = { down: [], isPalm: false, wrong: [] }

/** @param widthMm how wide the contact is; 0 where the screen does not say */
export function touched(t: Touches, id: number, widthMm: number, atMs: number): Touches {
  const down = [...t.down.filter((d) => d !== id), id]
  const isPalm = t.isPalm || down.length > CONTACTS_MOST || widthMm > CONTACT_MM
  const recent = t.wrong.filter((at) => atMs - at < WIPE_WITHIN_MS)
  return { down, isPalm, wrong: isPalm ? [...recent, atMs] : recent }
}

export function lifted(t: Touches, id: number): Touches {
  const down = t.down.filter((d) => d !== id)
  return { ...t, down, isPalm: t.isPalm && down.length > 0 }
}

export const looksWiped = (t: Touches): boolean => t.wrong.length > WIPE_TOUCHES

/** Whether to offer wiping the screen; the frame shows the offer and withdraws it. */
export const wantsWipe = signal(false)

const controlOf = (target: EventTarget | null): HTMLElement | null =>
  target instanceof Element ? target.closest<HTMLElement>(CONTROLS) : null

const pxPerMm = (page: Window): number => {
  const probe = page.getComputedStyle(page.document.documentElement).getPropertyValue('--mm')
  return probe.endsWith('px') ? Number.parseFloat(probe) : 96 / 25.4
}

/** A finger that was lifted from a control, and whether its click has come: from the browser or from us. */
type Finger = { readonly id: number; readonly control: HTMLElement; hasClicked: boolean }

/** Whose click it is. A browser whose clicks do not say so has the last finger on this control. */
const fingerOf = (
  fingers: readonly Finger[],
  { pointerId }: Partial<PointerEvent>,
  control: HTMLElement,
): Finger | undefined =>
  pointerId === undefined
    ? fingers.slice(-1).find((finger) => finger.control === control)
    : fingers.find(({ id }) => id === pointerId)

/** @returns stops listening */
export function listenForTouches(page: Window): () => void {
  let touches = NO_TOUCHES
  let pressed: HTMLElement | null = null
  let wasPalm = false
  let last: { readonly control: Element; readonly atMs: number } | null = null
  let fingers: readonly Finger[] = []
  const stop = (event: Event) => {
    event.preventDefault()
    event.stopImmediatePropagation()
  }
  const onDown = (event: PointerEvent) => {
    const widthMm = event.pointerType === 'touch' ? event.width / pxPerMm(page) : 0
    touches = touched(touches, event.pointerId, widthMm, event.timeStamp)
    fingers = fingers.filter(({ id }) => id !== event.pointerId)
    if (looksWiped(touches)) wantsWipe.value = true
    wasPalm = touches.isPalm
    pressed = wasPalm ? null : controlOf(event.target)
    if (wasPalm) stop(event)
  }
  const onUp = (event: PointerEvent) => {
    touches = lifted(touches, event.pointerId)
    const control = pressed
    pressed = null
    if (wasPalm || control === null || !isNear(control, event, SLIP_MM * pxPerMm(page))) return
    const own = { id: event.pointerId, control, hasClicked: false }
    const atMs = event.timeStamp
    fingers = [...fingers.slice(1 - FINGERS_KEPT), own]
    page.setTimeout(() => {
      // Else the browser has made a click of it itself.
      if (own.hasClicked || !control.isConnected || control.matches('.hold')) return
      own.hasClicked = true
      last = { control, atMs }
      control.click()
    }, OWN_CLICK_MS)
  }
  const onCancel = (event: PointerEvent) => {
    touches = lifted(touches, event.pointerId)
    pressed = null
  }
  const onClick = (event: MouseEvent) => {
    const control = controlOf(event.target)
    // A key, or the Enter that sends a form, is not a finger.
    if (event.detail === 0) return
    if (wasPalm) return stop(event)
    if (control === null) return
    const finger = fingerOf(fingers, event, control)
    // On a busy screen the browser's click comes after ours, and to whatever stands there by then.
    if (finger?.hasClicked) return stop(event)
    if (finger) finger.hasClicked = true
    const isRepeat =
      last !== null && last.control === control && event.timeStamp - last.atMs < REPEAT_MS
    if (isRepeat && !control.closest(REPEATED)) return stop(event)
    last = { control, atMs: event.timeStamp }
  }
  const capture = { capture: true }
  page.addEventListener('pointerdown', onDown, capture)
  page.addEventListener('pointerup', onUp, capture)
  page.addEventListener('pointercancel', onCancel, capture)
  page.addEventListener('click', onClick, capture)
  return () => {
    page.removeEventListener('pointerdown', onDown, capture)
    page.removeEventListener('pointerup', onUp, capture)
    page.removeEventListener('pointercancel', onCancel, capture)
    page.removeEventListener('click', onClick, capture)
  }
}

function isNear(control: HTMLElement, at: PointerEvent, withinPx: number): boolean {
  const box = control.getBoundingClientRect()
  const acrossPx = Math.max(box.left - at.clientX, at.clientX - box.right, 0)
  const downPx = Math.max(box.top - at.clientY, at.clientY - box.bottom, 0)
  return Math.hypot(acrossPx, downPx) <= withinPx
}
