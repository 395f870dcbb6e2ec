import { expect, test } from 'vitest'
import { folderForTests } from '../support/folderForTests.ts'
import { vanInWork } from '../support/serverCommands.ts'
import { get, post, ran, serverProcess, startedByCommand } from '../support/serverProcess.ts'

/** The command `flashbell` is a process of its own in front of the server's. */

const place = folderForTests()

test('a server stops in order when the command that started it is killed', async () => {
  const { url, kill } = await startedByCommand(place.folder)
  expect((await post(`${url}/api/commands`, vanInWork)).status).toBe(200)
  kill()
  await noAnswerFrom(`${url}/healthz`)
  // The port and the folder are free again, and nothing is lost.
  const again = await serverProcess(place.folder)
  expect((await get(`${again.url}/api/state`)).body.head).toBe(8)
  expect(await again.stop('SIGTERM')).toEqual({ code: 0, err: '' })
  expect((await ran(['verify', '--data', place.folder])).code).toBe(0)
})

async function noAnswerFrom(url: string): Promise<void> {
  for (;;) {
    const isAnswered = await fetch(url).then(
      () => true,
      () => false,
    )
    if (!isAnswered) return
    await Bun.sleep(50)
  }
}
