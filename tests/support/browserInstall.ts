import type { Page } from 'playwright-core'

/**
 * What prevents installing a page, by the criteria that Chromium publishes (web.dev, "What does
 * it take to be installable?"): a secure context, and a manifest with a name, a start, a display of
 * its own and icons of 192 and 512 px, which have to be there and be so large.
 */
export const installProblems = (page: Page): Promise<string[]> =>
  page.evaluate(async () => {
    type Icon = { src: string; sizes?: string; purpose?: string }
    type Manifest = {
      name?: string
      short_name?: string
      start_url?: string
      display?: string
      prefer_related_applications?: boolean
      icons?: Icon[]
    }
    const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]')
    if (link === null) return ['no manifest']
    const answer = await fetch(link.href)
    if (!answer.ok) return [`manifest: ${answer.status}`]
    const manifest = (await answer.json()) as Manifest
    const widthPx = async ({ src }: Icon): Promise<number> => {
      const image = new Image()
      image.src = new URL(src, link.href).href
      return image.decode().then(
        () => image.naturalWidth,
        () => 0,
      )
    }
    const icons = (manifest.icons ?? []).filter(({ purpose = 'any' }) => purpose.includes('any'))
    const widths = await Promise.all(icons.map(widthPx))
    const hasIcon = (px: number) =>
      icons.some(({ sizes }, i) => sizes === `${px}x${px}` && widths[i] === px)
    const displays = ['fullscreen', 'standalone', 'minimal-ui', 'window-controls-overlay']
    const met: Record<string, boolean> = {
      'a secure context': window.isSecureContext,
      'a name': Boolean(manifest.name ?? manifest.short_name),
      'a start that it serves': new URL(manifest.start_url ?? 'none:', link.href).origin === origin,
      'a display of its own': displays.includes(manifest.display ?? 'browser'),
      'no other application preferred': manifest.prefer_related_applications !== true,
      'an icon of 192 px': hasIcon(192),
      'an icon of 512 px': hasIcon(512),
    }
    return Object.keys(met).filter((criterion) => !met[criterion])
  })
