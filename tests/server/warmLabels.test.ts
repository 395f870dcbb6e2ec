import { expect, onTestFinished, test } from 'vitest'
import { layoutCodeTile } from '../../labels/codeTile.ts'
import { labelPng, labelSvg } from '../../labels/render.ts'
import { labelThread } from '../../server/labelThread.ts'

const layout = layoutCodeTile('K1-COATSTART-9', 203)

function thread() {
  const made = labelThread()
  onTestFinished(made.end)
  return made
}

test('what is drawn ahead of the first label takes the codes, the fonts and the bitmap to a PNG', async () => {
  const png = await thread().warm()
  // The first bytes of every PNG file (RFC 2083, 3.1).
  expect([...png.slice(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10])
})

test('a label of the thread is the same as one drawn here', async () => {
  const labels = thread()
  const [svg, png] = await Promise.all([labels.svg(layout), labels.png(layout)])
  expect(svg).toBe(labelSvg(layout))
  expect(png).toEqual(Uint8Array.from(labelPng(layout)))
})

const ms = ({ user, system }: NodeJS.CpuUsage) => (user + system) / 1_000

test('loading and drawing for the first time is the work of the thread: nobody else waits for it', async () => {
  const labels = thread()
  // Processor time: how long a turn takes otherwise is the machine's.
  const [own, whole] = [process.threadCpuUsage(), process.cpuUsage()]
  let isWarm = false
  const warming = labels.warm().then(() => {
    isWarm = true
  })
  // A label that is asked for meanwhile is drawn between two steps, not after the last.
  await labels.svg(layout)
  expect(isWarm).toBe(false)
  await warming
  expect(ms(process.threadCpuUsage(own))).toBeLessThan(ms(process.cpuUsage(whole)) / 4)
})

test('a fault in one label is its own, and an ended thread begins again with the next', async () => {
  const labels = thread()
  const [wrong, good] = [
    labels.svg({ ...layout, items: [{ kind: 'qr', payload: '' }] } as never),
    labels.svg(layout),
  ]
  await expect(wrong).rejects.toThrow()
  expect(await good).toBe(labelSvg(layout))
  const last = labels.png(layout)
  labels.end()
  await expect(last).rejects.toThrow('The server ends.')
  expect(await labels.png(layout)).toEqual(Uint8Array.from(labelPng(layout)))
})
