import { readFileSync } from 'node:fs'
import { afterAll, expect, test } from 'vitest'
import { longWorkEnv, SERVER_ENGINE } from '../../server/engine.ts'
import { dataFolder, killAll, startedByCommand } from '../support/serverProcess.ts'

afterAll(killAll)

/** What a process was started with, as the system knows it. */
const environmentOf = (pid: number): string[] =>
  readFileSync(`/proc/${pid}/environ`, 'utf8').split('\0')

test('a server that is started by the command has its engine set for the short work of a shop', async () => {
  const { folder, remove } = dataFolder()
  const { pid, kill } = await startedByCommand(folder)
  try {
    const [server] = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ')
    const wanted = Object.entries(SERVER_ENGINE).map(([name, value]) => `${name}=${value}`)
    expect(wanted.length).toBeGreaterThan(0)
    expect(environmentOf(Number(server))).toEqual(expect.arrayContaining(wanted))
    expect(environmentOf(pid)).not.toEqual(expect.arrayContaining(wanted))
  } finally {
    kill()
    remove()
  }
})

test('work on a whole log is started with the engine as it comes, and with what a person set', () => {
  const own = { PATH: '/bin', BUN_JSC_useFTLJIT: '1' }
  expect(longWorkEnv({ ...own })).toEqual(own)
  expect(longWorkEnv({ ...SERVER_ENGINE, PATH: '/bin' })).toEqual({ PATH: '/bin' })
})
