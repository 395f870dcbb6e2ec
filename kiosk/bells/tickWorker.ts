/**
 * A Worker that pokes the page. A hidden page's own timers are held back to once a second or once a
 * minute; a Worker's are not. It only says "look now": deadlines are compared, not counted.
 */
const EVERY_MS = 200

setInterval(() => self.postMessage(null), EVERY_MS)
