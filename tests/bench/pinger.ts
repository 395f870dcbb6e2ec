/** A second kiosk on a thread of its own: asks, waits for the answer, asks again, until it is told to stop. */

declare const self: Worker

let isOn = false
let waited: number[] = []

self.onmessage = ({ data }: MessageEvent<'stop' | { url: string; everyMs: number }>) => {
  if (data === 'stop') isOn = false
  else {
    isOn = true
    void ask(data)
  }
}

async function ask({ url, everyMs }: { url: string; everyMs: number }): Promise<void> {
  waited = []
  try {
    while (isOn) {
      const start = performance.now()
      const answer = await fetch(url)
      await answer.arrayBuffer()
      if (!answer.ok) throw new Error(`${url}: ${answer.status}`)
      waited.push(performance.now() - start)
      await Bun.sleep(everyMs)
    }
    self.postMessage(waited)
  } catch (error) {
    self.postMessage(String(error))
  }
}
