/**
 * A process that writes to a log until it is stopped: `bun logWriter.ts FILE SHOP GROUP COUNT`
 * appends COUNT groups of GROUP entries (0: no end), prints `done POSITION` for each that was
 * acknowledged, and `failed CODE` where one was not.
 */
import { LogError } from '../../server/log/log.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { entriesAfter } from './logEntries.ts'

const [file = '', shop = '', size = '1', count = '0'] = process.argv.slice(2)
const store = sqliteStore(file)
let isFailed = false

for (let done = 0; done < Number(count) || count === '0'; ) {
  const head = await store.head(shop)
  const contents = Array.from({ length: Number(size) }, (_, i) => ({
    // The process is part of the id, so that two that race never make the same one.
    command: `p${process.pid}-${head.position + i + 1}`,
    data: { nth: i + 1, of: Number(size), filler: 'x'.repeat(300) },
  }))
  const entries = entriesAfter(shop, head, contents)
  try {
    if ((await store.append(shop, head.position, entries)) === 'moved') continue
  } catch (error) {
    if (!(error instanceof LogError)) throw error
    process.stdout.write(`failed ${error.code}\n`)
    isFailed = true
    break
  }
  done += 1
  process.stdout.write(`done ${head.position + Number(size)}\n`)
}
await store.close()
process.exit(isFailed ? 1 : 0)
