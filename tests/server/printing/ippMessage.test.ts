import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  attribute,
  decodeIpp,
  encodeIpp,
  type IppMessage,
  NotIpp,
  numberIn,
  textsIn,
  valuesOf,
} from '../../../server/printing/ippMessage.ts'
import { httpUrl } from '../../../server/printing/ippPrinter.ts'
import { hexBytes, ipptoolRequest, recordedAnswer } from '../../support/ippAnswers.ts'

const ascii = (text: string) => Buffer.from(text, 'latin1').toString('hex')
const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex')
const HEAD =
  `470012${ascii('attributes-charset')}0005${ascii('utf-8')}` +
  `48001b${ascii('attributes-natural-language')}0005${ascii('en-us')}`
const operation = (...more: ReturnType<typeof attribute>[]) => ({
  group: 'operation' as const,
  attributes: [
    attribute('attributes-charset', 'charset', 'utf-8'),
    attribute('attributes-natural-language', 'language', 'en-us'),
    ...more,
  ],
})
const PINETREE = 'ipp://printer.example.com/ipp/print/pinetree'

describe('a message as bytes', () => {
  // RFC 8010 appendix A.1, octet by octet.
  const request: IppMessage = {
    ...{ major: 1, minor: 1, code: 0x0002, requestId: 1 },
    groups: [
      operation(
        attribute('printer-uri', 'uri', PINETREE),
        attribute('job-name', 'name', 'foobar'),
        attribute('ipp-attribute-fidelity', 'boolean', true),
      ),
      {
        group: 'job',
        attributes: [
          attribute('copies', 'integer', 20),
          attribute('sides', 'keyword', 'two-sided-long-edge'),
        ],
      },
    ],
    data: Buffer.from('%!PDF...', 'latin1'),
  }
  const requestHex =
    `0101000200000001` +
    `01${HEAD}45000b${ascii('printer-uri')}002c${ascii(PINETREE)}` +
    `420008${ascii('job-name')}0006${ascii('foobar')}` +
    `220016${ascii('ipp-attribute-fidelity')}000101` +
    `02210006${ascii('copies')}000400000014` +
    `440005${ascii('sides')}0013${ascii('two-sided-long-edge')}` +
    `03${ascii('%!PDF...')}`

  test('is that of the first example of RFC 8010', () => {
    expect(hex(encodeIpp(request))).toBe(requestHex)
    expect(decodeIpp(hexBytes(requestHex))).toMatchObject({ ...request, data: expect.anything() })
  })

  // RFC 8010 appendix A.2.
  test('the answer of its second example is read', () => {
    const answer = decodeIpp(
      hexBytes(
        `0101000000000001` +
          `01${HEAD}41000e${ascii('status-message')}000d${ascii('successful-ok')}` +
          `02210006${ascii('job-id')}000400000093` +
          `450007${ascii('job-uri')}0030${ascii(`${PINETREE}/147`)}` +
          `230009${ascii('job-state')}000400000003` +
          `03`,
      ),
    )
    expect(answer).toMatchObject({ code: 0, requestId: 1 })
    expect(numberIn(answer, 'job', 'job-id')).toBe(147)
    expect(numberIn(answer, 'job', 'job-state')).toBe(3)
    expect(textsIn(answer, 'job', 'job-uri')).toEqual([`${PINETREE}/147`])
  })

  test('with a collection is, byte for byte, what ipptool writes', () => {
    const ours = encodeIpp({
      ...{ major: 1, minor: 1, code: 0x0002, requestId: ipptoolRequest.requestId },
      groups: [
        {
          group: 'operation',
          attributes: [
            attribute('attributes-charset', 'charset', 'utf-8'),
            attribute('attributes-natural-language', 'language', 'en'),
            attribute('printer-uri', 'uri', 'ipp://localhost:18640/ipp/print'),
            attribute('requesting-user-name', 'name', 'flashbell'),
            attribute('job-name', 'name', 'cup K7F3QABC (m1)'),
            attribute('document-format', 'mimeType', 'image/pwg-raster'),
          ],
        },
        {
          group: 'job',
          attributes: [
            attribute('copies', 'integer', 1),
            attribute('media-col', 'collection', [
              attribute('media-size', 'collection', [
                attribute('x-dimension', 'integer', 5700),
                attribute('y-dimension', 'integer', 3200),
              ]),
            ]),
            attribute('print-scaling', 'keyword', 'none'),
          ],
        },
      ],
      data: Buffer.from('LABEL', 'latin1'),
    })
    expect(hex(ours)).toBe(ipptoolRequest.hex)
  })

  test('of a printer, read and written again, is the same', () => {
    for (const name of ['aboutIdle', 'aboutEmpty', 'jobCompleted', 'printed'] as const) {
      const bytes = recordedAnswer(name)
      expect(hex(encodeIpp(decodeIpp(bytes)))).toBe(hex(bytes))
    }
  })

  test('that is cut, or whose bytes are wrong, is no message, and never another error', () => {
    const whole = recordedAnswer('aboutIdle')
    const isRead = (bytes: Uint8Array) => {
      try {
        return decodeIpp(bytes).groups.length >= 0
      } catch (error) {
        expect(error).toBeInstanceOf(NotIpp)
        return false
      }
    }
    for (let length = 0; length < whole.length; length += 1)
      expect(isRead(whole.subarray(0, length))).toBe(false)
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.nat(255), (at, byte) => {
        const wrong = whole.slice()
        wrong[at] = byte
        isRead(wrong)
      }),
    )
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => void isRead(bytes)))
  })

  test('a page of HTML is no message', () => {
    expect(() => decodeIpp(Buffer.from('<html><body>It works</body></html>'))).toThrow(NotIpp)
  })

  test('several values of one attribute are one list', () => {
    const about = decodeIpp(recordedAnswer('aboutIdle'))
    expect(textsIn(about, 'printer', 'media-supported')).toEqual([
      'om_label_57x32mm',
      'om_label_62x40mm',
      'na_index-4x6_4x6in',
      'iso_a4_210x297mm',
    ])
    expect(valuesOf(about, 'printer', 'pwg-raster-document-resolution-supported')).toEqual([
      { cross: 203, feed: 203, unit: 'dpi' },
      { cross: 300, feed: 300, unit: 'dpi' },
    ])
  })
})

describe('the address of a printer', () => {
  // RFC 8010 section 4: IPP goes over HTTP, on port 631 where none is named.
  test.each([
    ['ipp://192.168.1.20/ipp/print', 'http://192.168.1.20:631/ipp/print'],
    ['ipp://localhost:8631/printers/labels', 'http://localhost:8631/printers/labels'],
    ['ipps://printer.local/ipp/print', 'https://printer.local:631/ipp/print'],
    ['ipp://[fe80::1]:631/ipp', 'http://[fe80::1]:631/ipp'],
    ['ipp://printer', 'http://printer:631/'],
  ])('%s is asked at %s', (address, url) => {
    expect(httpUrl(address)).toBe(url)
  })
})
