import { describe, expect, test } from 'vitest'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { encodeCommandCode, PRINTED_COMMANDS, readCommandCode } from '../../labels/code.ts'

describe('a printed command code', () => {
  test('reads back as the command it was printed for, also in small letters and with spaces round it', () => {
    for (const command of PRINTED_COMMANDS) {
      const text = encodeCommandCode(command)
      expect(text).toMatch(/^[A-Z0-9-]+$/)
      expect(readCommandCode(text)).toEqual({ kind: 'command', command })
      expect(readCommandCode(` ${text.toLowerCase()}\n`)).toEqual({ kind: 'command', command })
    }
  })

  test('with any one sign wrong, or two neighbors swapped, is not a command', () => {
    for (const command of PRINTED_COMMANDS) {
      const text = encodeCommandCode(command)
      for (let at = 0; at < text.length; at += 1) {
        for (const sign of 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-') {
          const wrong = text.slice(0, at) + sign + text.slice(at + 1)
          if (wrong !== text) expect(readCommandCode(wrong)?.kind, wrong).not.toBe('command')
        }
        const swapped =
          text.slice(0, at) + (text[at + 1] ?? '') + (text[at] ?? '') + text.slice(at + 2)
        if (swapped !== text) expect(readCommandCode(swapped)?.kind, swapped).not.toBe('command')
      }
    }
  })

  test('typed with another keyboard layout says so, and names the sign', () => {
    // A German layout types a sharp s where a US one has the hyphen; a French one a closing bracket.
    for (const sign of ['ß', ')', "'", '?']) {
      const text = encodeCommandCode('COATSTART').replaceAll('-', sign)
      expect(readCommandCode(text)).toEqual({ kind: 'problem', code: 'keyboardLayout', said: sign })
    }
  })

  test('of a later version or a name not known here is not guessed at', () => {
    expect(readCommandCode('K2-COATSTART-00')).toMatchObject({ code: 'unknownVersion', said: 'K2' })
    expect(readCommandCode('K1-COATSTART-00')).toMatchObject({ code: 'checksum' })
  })

  test('leaves labels and foreign codes to others', () => {
    for (const text of ['C1-K7F-K7F3QABC', 'P1-K7F-R4TPDXYZ-8M', 'https://example.org', 'K7QD', ''])
      expect(readCommandCode(text)).toBe(null)
  })

  test('has a name in every language', () => {
    for (const words of [en, es])
      for (const command of PRINTED_COMMANDS)
        expect(words.handsfree.codes[command], command).toMatch(/\p{L}/u)
  })
})
