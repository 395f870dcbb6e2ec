/**
 * A Worker that pokes the page. A hidden page's own timers are held back to once a second or once a
 * minute; a Worker's are not. It only says "look now": deadlines are compared, not counted. The page says
 * how often, ms: until it does, as for a bell that is near.
 */
const FIRST_EVERY_MS = 200

const poke = () => self.postMessage(null)
let poking = setInterval(poke, FIRST_EVERY_MS)
self.addEventListener('message', ({ data: everyMs }: MessageEvent<number>) => {
  clearInterval(poking)
  poking = setInterval(poke, everyMs)
})
