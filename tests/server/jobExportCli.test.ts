import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import { checkExport } from '../../kiosk/trace/checkExport.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { post, ran, serverProcess } from '../support/serverProcess.ts'

/** One job exported from the command line, while the server runs. */

vi.setConfig({ testTimeout: 400_000 })
const place = folderForTests()
const other = folderForTests()

test('a job is written to a page or to lines; what cannot be is said in a sentence', async () => {
  const server = await serverProcess(place.folder)
  for (const wish of vanInWork) await post(`${server.url}/api/commands`, wish)
  await post(`${server.url}/api/commands`, command('note-1', 'AddNote', { job: JOB, text: 'ñ ε' }))
  const asked = (name: string, job = JOB) =>
    ran(['export', join(other.folder, name), '--job', job, '--data', place.folder])
  const page = await asked('job.html')
  expect([page.code, page.err]).toEqual([0, ''])
  const html = readFileSync(join(other.folder, 'job.html'), 'utf8')
  const [, seal = '', text = ''] = /id="job" data-sha256="(\w+)">(.*?)<\/script>/s.exec(html) ?? []
  const made = checkExport(text, seal)
  expect(made?.changedAt).toBeNull()
  expect(JSON.parse(page.out)).toMatchObject({ ok: true, job: JOB, entries: made?.entries.length })
  expect((await asked('job.jsonl')).code).toBe(0)
  const lines = readFileSync(join(other.folder, 'job.jsonl'), 'utf8').trimEnd().split('\n')
  expect(lines).toHaveLength(made?.entries.length ?? 0)
  expect(lines.join()).toContain('ñ ε')
  expect((await asked('job.html')).err).toContain('exists already')
  expect((await asked('job.pdf')).err).toContain('.html or .jsonl')
  expect((await asked('none.html', 'NNNN2222')).err).toContain('has no job NNNN2222')
  expect((await asked('bad.html', 'no')).err).toContain('job')
  await server.stop('SIGTERM')
})
