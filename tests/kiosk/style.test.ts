/// <reference path="./culori.d.ts" />
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { wcagContrast } from 'culori'
import { expect, test } from 'vitest'

const folder = join(import.meta.dirname, '../../kiosk')
const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(css|tsx?|html|svg)$/.test(name))
  .map((name) => ({ name, text: readFileSync(join(folder, name), 'utf8') }))
const style = sources.find(({ name }) => name === 'style.css')?.text ?? ''
const token = (name: string) => new RegExp(`--${name}: ([^;]+);`).exec(style)?.[1] ?? ''
const themes = (name: string) => /light-dark\((#\w+), (#\w+)\)/.exec(token(name))?.slice(1) ?? []

// Fills computed for color-blind eyes.
const FILLS = {
  'bell-coat': '#4aa3ff',
  'bell-pot-near': '#ffd75e',
  'bell-pot-over': '#e8603c',
  'bell-window': '#f77fbe',
  'bell-cured': '#ffffff',
}

test('text has a contrast of 7 to 1 on every background, light and dark (WCAG 2.2 SC 1.4.6)', () => {
  for (const text of ['ink', 'muted'])
    for (const ground of ['paper', 'raised'])
      for (const theme of [0, 1]) {
        const ratio = wcagContrast(themes(text)[theme] ?? '', themes(ground)[theme] ?? '')
        expect(ratio, `${text} on ${ground}, theme ${theme}`).toBeGreaterThanOrEqual(7)
      }
})

test('a bell has its fill, black on it has a contrast of 4.5 to 1 or more, its outline 3 to 1', () => {
  for (const [name, fill] of Object.entries(FILLS)) {
    expect(token(name)).toBe(fill)
    expect(wcagContrast('#000000', fill), name).toBeGreaterThanOrEqual(4.5)
  }
  for (const theme of [0, 1])
    expect(
      wcagContrast(themes('ink')[theme] ?? '', themes('paper')[theme] ?? ''),
    ).toBeGreaterThanOrEqual(3)
})

test('the colors of bells are used for bells alone', () => {
  const fills = new RegExp(`var\\(--(${Object.keys(FILLS).join('|')})\\)`, 'g')
  for (const { name, text } of sources) {
    const uses = [...text.matchAll(fills)]
    for (const use of uses) {
      const rule = text.slice(0, use.index).split('}').at(-1)?.split('{')[0]
      expect(rule, `${name}: ${use[0]}`).toMatch(/\.bell\b/)
    }
    // White is a plain word of the palette too; the other four are where they are defined.
    for (const fill of Object.values(FILLS).filter((f) => f !== '#ffffff')) {
      const count = text.toLowerCase().split(fill).length - 1
      expect(count, `${fill} in ${name}`).toBe(name === 'style.css' ? 1 : 0)
    }
  }
})

test('no bell blinks more often than three times a second, and none where motion is reduced', () => {
  expect(style).toMatch(/prefers-reduced-motion: no-preference\) \{\s+\.bell/)
  const seconds = [...style.matchAll(/animation: bell-blink ([\d.]+)s/g)].map((m) => Number(m[1]))
  expect(seconds).toEqual([1])
  for (const { name, text } of sources.filter((s) => s.name.endsWith('.css')))
    for (const rule of text.matchAll(/\n( *)(animation|transition):/g))
      expect(rule[1]?.length, `${name} moves outside of no-preference`).toBeGreaterThan(2)
})

// Gloved hands cannot hover, drag, swipe or press with two fingers.
test('nothing needs hovering, dragging, swiping, a double tap or two fingers', () => {
  const needs =
    /:hover|dblclick|doubleclick|draggable|ondrag|onDrag|touchmove|gesturestart|contextmenu/i
  for (const { name, text } of sources) expect(text, name).not.toMatch(needs)
})
