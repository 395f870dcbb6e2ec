// Put into a page before its own scripts: notes when sounds start and end on the clock of the
// machine, when something can be seen, and how far the page's own timers are held back.
;(() => {
  const TIMER_MS = 100
  const sounds = []
  const silences = []
  const timerAtMs = []
  const presses = []
  const stops = new WeakMap()
  const atMs = (context, whenS) => Date.now() + Math.max(0, whenS - context.currentTime) * 1000
  const { start, stop } = AudioScheduledSourceNode.prototype

  AudioScheduledSourceNode.prototype.start = function (when = 0, ...rest) {
    start.call(this, when, ...rest)
    sounds.push({ atMs: atMs(this.context, when), hz: this.frequency?.value ?? 0 })
  }
  // The first end is laid with the start; another one comes from an answer.
  AudioScheduledSourceNode.prototype.stop = function (when = 0) {
    stop.call(this, when)
    const count = (stops.get(this) ?? 0) + 1
    stops.set(this, count)
    if (count > 1) silences.push({ atMs: atMs(this.context, when) })
  }

  setInterval(() => timerAtMs.push(Date.now()), TIMER_MS)
  // The kiosk's own Worker once more, with nothing behind it: what the machine alone makes late.
  const tickAtMs = []
  if (location.protocol.startsWith('http'))
    new Worker('/bells/tickWorker.js').addEventListener('message', () => tickAtMs.push(Date.now()))
  addEventListener(
    'pointerdown',
    ({ timeStamp }) => presses.push(Date.now() - (performance.now() - timeStamp)),
    { capture: true },
  )

  /** When a frame with what is now in the page has been handed over, machine time. */
  const framed = () =>
    new Promise((done) => {
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel()
        port1.onmessage = () => done(Date.now())
        port2.postMessage(null)
      })
    })

  /** Waits for a change of the page after which `is` holds, and for the frame that shows it. */
  const seen = (is) =>
    new Promise((done) => {
      const watch = new MutationObserver(() => {
        if (!is()) return
        watch.disconnect()
        void framed().then(done)
      })
      watch.observe(document, {
        subtree: true,
        childList: true,
        attributes: true,
        characterData: true,
      })
    })

  /**
   * Answers every bell when it has been heard, so that none is in the way of the next. On a Worker's
   * ticks: after about a minute hidden, the page's own timers were seen to stop for longer than a bell.
   */
  const answerAll = (afterMs) => {
    new Worker('/bells/tickWorker.js').addEventListener('message', () => {
      const last = sounds.at(-1)
      if (last === undefined || Date.now() - last.atMs < afterMs) return
      document.querySelector('[data-act=acknowledge]')?.click()
    })
  }

  /** All is played as ever, but into a closed gain: a tab that is heard is not held back. */
  const mute = () => {
    const { connect } = AudioNode.prototype
    const closed = new WeakMap()
    AudioNode.prototype.connect = function (to, ...rest) {
      const context = this.context
      if (to !== context.destination) return connect.call(this, to, ...rest)
      if (!closed.has(context)) {
        closed.set(context, new GainNode(context, { gain: 0 }))
        connect.call(closed.get(context), to)
      }
      connect.call(this, closed.get(context))
      return to
    }
  }

  window.probe = { sounds, silences, presses, timerAtMs, tickAtMs, seen, answerAll, mute }
})()
