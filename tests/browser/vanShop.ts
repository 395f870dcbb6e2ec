import { afterEach } from 'vitest'
import type { Entry } from '../../machines/envelope.ts'
import { openPage, type PageOptions } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { openVan, START, setUp } from './busyShop.ts'

/** One browser for a file of tests, and a shop with the van for each of them. */
export function vanShop() {
  const browser = browserForTests(SOUND)
  let site: ShopSite
  afterEach(() => site.stop())
  return {
    /** Of the test that runs. */
    get site() {
      return site
    },
    /** Opens the shop with a number of panels ready for their first coat. @param settings such as its language */
    async van(panels: number, route?: object[], settings?: object): Promise<void> {
      site = await serveShop(START)
      await setUp(site, settings)
      await openVan(site, panels, route)
    },
    /** A kiosk of it, at the Wall unless told. */
    async open(options: PageOptions = {}) {
      const opened = await openPage(browser, site, options)
      await opened.page.waitForSelector(options.path === undefined ? '.lane, .empty' : '.shell')
      return opened
    },
    entriesOf: (panel: string): readonly Entry[] =>
      (site.shops.ownWriter.state().things.panel[panel]?.entries ?? []) as readonly Entry[],
  }
}
