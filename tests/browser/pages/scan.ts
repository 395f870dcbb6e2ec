import { listenForScans } from '../../../kiosk/device/scanner.ts'

/** A form as kiosk screens have them, and a scanner listened for. What happened is in `seen`. */
const seen = {
  scans: [] as string[],
  clicks: 0,
  submits: 0,
  inputs: [] as string[],
  keys: [] as string[],
}

document.body.innerHTML = `<form><input id="note" value="two nibs"><input id="amount" type="number">
<button type="button" id="start">Start</button><button>Send</button></form><textarea id="long"></textarea>`
const on = (id: string) => document.querySelector(`#${id}`)
on('start')?.addEventListener('click', () => {
  seen.clicks += 1
})
document.querySelector('form')?.addEventListener('submit', (event) => {
  event.preventDefault()
  seen.submits += 1
})
document.addEventListener('input', ({ target }) => {
  if (target instanceof HTMLInputElement) seen.inputs.push(target.value)
})
document.addEventListener('keydown', ({ key }) => seen.keys.push(key))
let learned: number | null = null
listenForScans(window, ({ text }) => seen.scans.push(text), {
  gapMs: () => learned,
  learn: (gapMs) => {
    learned = gapMs
  },
})

declare global {
  interface Window {
    seen: typeof seen
  }
}
window.seen = seen
