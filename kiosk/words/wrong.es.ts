import type { FieldError } from '../../machines/accept.ts'
import { phraseOf, sentenceOf } from '../forms/wrongNumber.ts'
import { numberText, plainUnit } from '../units/measure.ts'
import { es as calculator } from './calculator.ts'
import type { en } from './wrong.ts'

const SENTENCE = /^(?:.*?) was (?<given>.*); accepted is (?<accepted>.*)\.$/s
/** The unit at the end of a range: "a number from 0 to 240 min". */
const UNIT = / to \S+ (?<unit>[^\s()]+)$/

/** Phrases of what is accepted beside those of the calculator. */
const PHRASES: readonly (readonly [RegExp, string])[] = [
  [/^eight characters of (\S+)$/, 'ocho caracteres de $1'],
  [/^1 to 40 characters of .*$/, 'de 1 a 40 caracteres: A-Z, a-z, 0-9 y -'],
  [/^true or false$/, 'sí o no'],
  [/^only these fields: (.*)$/, 'solo estos campos: $1'],
  [/^an object(?: with (.*))?$/, 'un objeto con $1'],
  [/^a SHA-256 .*$/, 'un SHA-256 en hexadecimal, en minúsculas'],
  [/^a list in which no .* stands twice$/, 'una lista sin repetidos'],
  [/^either entry or command$/, 'o bien entry o bien command'],
  [/^a time before the finish$/, 'una hora anterior al final'],
  [/^a time not after now$/, 'una hora que no sea futura'],
  [/^an IANA time zone .*$/, 'una zona horaria IANA, como Europe/Madrid'],
  [/^more seconds than the first$/, 'más segundos que lo primero'],
  [/^components of which one .*$/, 'componentes de los que uno tenga partes'],
  [/^"whole": .*$/, 'el panel entero: un difuminado se barniza de canto a canto'],
  [/^("\S+"), the stage of (.*)$/, '$1, la etapa de $2'],
  [/^°C, or nothing .*$/, '°C, o nada mientras el panel se hornea'],
  [/^a reason, .*$/, 'un motivo, pues se dice mucho después'],
  [/^a JPEG, PNG or WebP picture$/, 'una imagen JPEG, PNG o WebP'],
  [/^a value$/, 'un valor'],
  [/^true above (\S+) dB.*$/, 'sí por encima de $1 dB(A): solo lo que el taller firmó por escrito'],
  [/^a temperature from (\S+) on \((.*)\)$/, 'una temperatura desde $1 ($2)'],
  [/^a name that (\S+) does not have twice$/, 'un nombre que $1 no tenga dos veces'],
  [/^all volatiles, .*$/, 'todos los volátiles, no menos que agua y exentos juntos'],
]

function spanishPhrase(accepted: string): string {
  const known = PHRASES.find(([form]) => form.test(accepted))
  return known ? accepted.replace(known[0], known[1]) : accepted
}

function spanish({ message }: FieldError): string {
  if (/^The picture was larger;/.test(message)) return 'La foto es demasiado grande: hasta 10 MB.'
  const { given = '', accepted } = SENTENCE.exec(message)?.groups ?? {}
  if (accepted === undefined) return message
  const typed = given === 'nothing' ? '' : given
  const unit = plainUnit(UNIT.exec(accepted)?.groups?.unit ?? '')
  const said = phraseOf(accepted) ? accepted : spanishPhrase(accepted)
  const error = { field: '', message: `; accepted is ${said}.` }
  return sentenceOf(error, typed, unit, calculator, (value) => numberText(value, 'es'))
}

export const es: typeof en = spanish
