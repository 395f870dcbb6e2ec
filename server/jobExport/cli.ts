import { existsSync } from 'node:fs'
import { writeFile } from 'node:fs/promises'
import { check, id8 } from '../../machines/accept.ts'
import { EXPORT_FORMS, type ExportForm } from '../../machines/contract/jobExport.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { retold } from '../../machines/trace/retold.ts'
import { cacheFolderIn, hasLog, logFileIn, Usable } from '../data.ts'
import { exportPageIn, kioskFiles } from '../kioskFiles.ts'
import { sqliteStore } from '../log/sqlite.ts'
import { readerOf } from '../reading.ts'
import { inEnglish } from '../say.ts'
import { cloudEvents } from './cloudEvents.ts'
import { jobExport } from './gather.ts'
import { exportPage } from './html.ts'

const ALWAYS = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER }

const formOf = (file: string): ExportForm | undefined =>
  EXPORT_FORMS.find((form) => file.endsWith(`.${form}`))

/**
 * Writes one job to a new file: `.html` is a page that checks itself, `.jsonl` CloudEvents. A server may run
 * meanwhile.
 * @returns what was written
 * @throws Usable with a sentence for who asked
 */
export async function exportJob(
  { job, file, data, cache }: Readonly<Record<'job' | 'file' | 'data' | 'cache', string>>,
  now: number,
) {
  const id = check(id8, job, 'job')
  if (!id.ok) throw new Usable(inEnglish(0).fields(id).error.message)
  const form = formOf(file)
  if (form === undefined)
    throw new Usable(`"${file}" won't work. Use a file that ends in .html or .jsonl.`)
  if (existsSync(file)) throw new Usable(`${file} exists already. Choose another name.`)
  if (!hasLog(data)) throw new Usable(`There is no log in ${data}. Name its folder with --data.`)
  const store = sqliteStore(logFileIn(data))
  try {
    const shop = await store.getMeta('shop')
    const { position, hash } = await store.head(shop ?? '')
    const reader = readerOf(store, shop ?? '', position + 1)
    const settings = settingsOf(retold(await reader.byType('SettingsChanged', ALWAYS)))
    const around = { shop: shop ?? '', head: position, hash, now, settings }
    const made = await jobExport(id.value, around, reader)
    if (made === null) throw new Usable(`The log in ${data} has no job ${id.value}.`)
    const text =
      form === 'html'
        ? exportPage(made, exportPageIn(await kioskFiles(cache || cacheFolderIn(data))))
        : [...cloudEvents(made)].join('')
    await written(file, text)
    const entries = made.pieces.flatMap(({ links }) => links.filter((l) => typeof l !== 'string'))
    return { ok: true, file, job: id.value, entries: entries.length, head: position, hash }
  } finally {
    await store.close()
  }
}

async function written(file: string, text: string): Promise<void> {
  try {
    await writeFile(file, text, { flag: 'wx' })
  } catch (cause) {
    throw new Usable(`${file} cannot be written. Choose another place.`, { cause })
  }
}
