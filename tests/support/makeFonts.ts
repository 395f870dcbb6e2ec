import { copyFileSync, readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import subsetFont from 'subset-font'
import { CORE, FIGURES } from '../../kiosk/fonts/core.ts'

/**
 * Cuts the kiosk's fonts to the characters of CORE and of FIGURES: `bun tests/support/makeFonts.ts`. They are committed
 * with their license, which allows it (SIL Open Font License 1.1, without reserved names). What changes gets
 * another number in its name: a kiosk keeps a font for good.
 */

const PARTS = [
  ['next', 500, CORE, 1, ['kern', 'tnum']],
  ['next', 700, CORE, 1, ['kern', 'tnum']],
  ['mono', 700, FIGURES, 3, ['tnum', 'zero']],
] as const

for (const [family, weight, characters, cut, keepFeatures] of PARTS) {
  const name = `atkinson-hyperlegible-${family}`
  const path = (file: string) => fileURLToPath(import.meta.resolve(`@fontsource/${name}/${file}`))
  const whole = readFileSync(path(`files/${name}-latin-${weight}-normal.woff2`))
  const options = { targetFormat: 'woff2' as const, keepFeatures: [...keepFeatures] }
  const to = (file: string) => fileURLToPath(new URL(`../../kiosk/fonts/${file}`, import.meta.url))
  writeFileSync(
    to(`${family}-${weight}-core-${cut}.woff2`),
    await subsetFont(whole, characters, options),
  )
  copyFileSync(path('LICENSE'), to(`OFL-${family}.txt`))
}
