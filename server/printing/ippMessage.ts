/**
 * Messages of the Internet Printing Protocol as bytes (RFC 8010 section 3), as far as printing a label
 * needs them. Both ways, so that a test can read what was sent.
 */

/** Operations (RFC 8011 section 5.4.15). */
export const OPERATIONS = {
  printJob: 0x02,
  validateJob: 0x04,
  cancelJob: 0x08,
  getJobAttributes: 0x09,
  getPrinterAttributes: 0x0b,
} as const
export type Operation = keyof typeof OPERATIONS

/** Tags of groups (RFC 8010 section 3.5.1). */
export const GROUPS = { operation: 1, job: 2, printer: 4, unsupported: 5 } as const
export type GroupName = keyof typeof GROUPS

/** Tags of values (RFC 8010 section 3.5.2). */
const TAGS = {
  integer: 0x21,
  boolean: 0x22,
  enum: 0x23,
  octets: 0x30,
  resolution: 0x32,
  range: 0x33,
  collection: 0x34,
  text: 0x41,
  name: 0x42,
  keyword: 0x44,
  uri: 0x45,
  charset: 0x47,
  language: 0x48,
  mimeType: 0x49,
} as const
export type ValueTag = keyof typeof TAGS

const END_OF_ATTRIBUTES = 3
const END_COLLECTION = 0x37
const MEMBER_NAME = 0x4a
/** Text and name with their own language: a length and the language, then a length and the text. */
const WITH_LANGUAGE = [0x35, 0x36]
/** Values from 0x10 to 0x1f say only that there is none. */
const isOutOfBand = (tag: number): boolean => tag >= 0x10 && tag <= 0x1f

export type Resolution = {
  readonly cross: number
  readonly feed: number
  readonly unit: 'dpi' | 'dpcm'
}
export type Range = { readonly from: number; readonly to: number }
export type Value =
  | number
  | string
  | boolean
  | Uint8Array
  | Resolution
  | Range
  | readonly Attribute[]
  | null
export type Attribute = {
  readonly name: string
  /** Null for a type that is only carried along. */
  readonly tag: ValueTag | null
  readonly values: readonly Value[]
}
export type Group = { readonly group: GroupName | null; readonly attributes: readonly Attribute[] }

export type IppMessage = {
  readonly major: number
  readonly minor: number
  /** The operation of a request, the status of an answer. */
  readonly code: number
  readonly requestId: number
  readonly groups: readonly Group[]
  /** The document behind the attributes. */
  readonly data: Uint8Array
}

/** An attribute with one value or several of one type. */
export const attribute = (name: string, tag: ValueTag, ...values: readonly Value[]): Attribute => ({
  name,
  tag,
  values,
})

const utf8 = new TextEncoder()
const DPI = 3
const DPCM = 4

/** @throws RangeError for a value that does not have its attribute's type */
export function encodeIpp(message: IppMessage): Uint8Array {
  const out: number[] = [message.major, message.minor, ...u16(message.code)]
  out.push(...u32(message.requestId))
  for (const { group, attributes } of message.groups) {
    if (group === null) continue
    out.push(GROUPS[group])
    for (const one of attributes) out.push(...attributeBytes(one))
  }
  out.push(END_OF_ATTRIBUTES)
  const bytes = new Uint8Array(out.length + message.data.length)
  bytes.set(out)
  bytes.set(message.data, out.length)
  return bytes
}

const u16 = (n: number) => [(n >> 8) & 0xff, n & 0xff]
const u32 = (n: number) => [(n >>> 24) & 0xff, (n >>> 16) & 0xff, ...u16(n)]
const field = (bytes: readonly number[]) => [...u16(bytes.length), ...bytes]
const signs = (text: string) => [...utf8.encode(text)]

function attributeBytes({ name, tag, values }: Attribute): number[] {
  if (tag === null) return []
  // Further values have no name (RFC 8010 section 3.1.5).
  return values.flatMap((value, n) => valueBytes(n === 0 ? name : '', tag, value))
}

function valueBytes(name: string, tag: ValueTag, value: Value): number[] {
  const head = [TAGS[tag], ...field(signs(name))]
  if (tag !== 'collection') return [...head, ...field(plainBytes(tag, value))]
  if (!Array.isArray(value)) throw new RangeError(`${name}: a collection is wanted`)
  const members = (value as readonly Attribute[]).flatMap((member) => memberBytes(member))
  return [...head, ...u16(0), ...members, END_COLLECTION, ...u16(0), ...u16(0)]
}

/** The name of a member is the value of an attribute without a name (RFC 8010 section 3.1.6). */
function memberBytes({ name, tag, values }: Attribute): number[] {
  if (tag === null) return []
  const named = [MEMBER_NAME, ...u16(0), ...field(signs(name))]
  return [...named, ...values.flatMap((value) => valueBytes('', tag, value))]
}

function plainBytes(tag: ValueTag, value: Value): number[] {
  if (typeof value === 'boolean') return [value ? 1 : 0]
  if (typeof value === 'number') return u32(value)
  if (typeof value === 'string') return signs(value)
  if (value instanceof Uint8Array) return [...value]
  if (value !== null && 'cross' in value) {
    return [...u32(value.cross), ...u32(value.feed), value.unit === 'dpi' ? DPI : DPCM]
  }
  if (value !== null && 'from' in value) return [...u32(value.from), ...u32(value.to)]
  throw new RangeError(`${tag}: ${String(value)} cannot be sent`)
}

/** What came is not a message of this protocol. */
export class NotIpp extends Error {
  override readonly name = 'NotIpp'
}

/**
 * @param bytes as they came from a printer: nothing in them is trusted
 * @throws NotIpp where a length leads beyond the end, or a group is not begun
 */
export function decodeIpp(bytes: Uint8Array): IppMessage {
  const read = reader(bytes)
  const [major, minor] = [read.u8(), read.u8()]
  const [code, requestId] = [read.u16(), read.u32()]
  const groups: { group: GroupName | null; attributes: Attribute[] }[] = []
  for (;;) {
    const tag = read.u8()
    if (tag === END_OF_ATTRIBUTES) break
    if (tag < 0x10) {
      groups.push({ group: groupName(tag), attributes: [] })
      continue
    }
    const attributes = groups.at(-1)?.attributes
    if (!attributes) throw new NotIpp('an attribute before its group')
    take(attributes, tag, read)
  }
  return { major, minor, code, requestId, groups, data: read.rest() }
}

const groupName = (tag: number): GroupName | null =>
  (Object.keys(GROUPS) as GroupName[]).find((name) => GROUPS[name] === tag) ?? null
const tagName = (tag: number): ValueTag | null => {
  if (WITH_LANGUAGE.includes(tag)) return tag === WITH_LANGUAGE[0] ? 'text' : 'name'
  return (Object.keys(TAGS) as ValueTag[]).find((name) => TAGS[name] === tag) ?? null
}

type Read = ReturnType<typeof reader>

/** Reads one value: of a new attribute, or one more of the last. */
function take(attributes: Attribute[], tag: number, read: Read): void {
  const name = read.text(read.u16())
  const value = readValue(tag, read, 0)
  const last = attributes.at(-1)
  if (name !== '') attributes.push({ name, tag: tagName(tag), values: [value] })
  else if (last) attributes[attributes.length - 1] = { ...last, values: [...last.values, value] }
  else throw new NotIpp('a further value of no attribute')
}

const DEPTH_MOST = 8

function readValue(tag: number, read: Read, depth: number): Value {
  const length = read.u16()
  if (tag === TAGS.collection) {
    read.text(length)
    return collectionOf(read, depth + 1)
  }
  const end = read.at() + length
  const value = plainValue(tag, read, length)
  read.to(end)
  return value
}

function collectionOf(read: Read, depth: number): Attribute[] {
  if (depth > DEPTH_MOST) throw new NotIpp('collections within collections')
  const members: Attribute[] = []
  for (;;) {
    const tag = read.u8()
    read.text(read.u16())
    if (tag === END_COLLECTION) {
      read.text(read.u16())
      return members
    }
    if (tag === MEMBER_NAME) {
      members.push({ name: read.text(read.u16()), tag: null, values: [] })
      continue
    }
    const value = readValue(tag, read, depth)
    const last = members.pop()
    if (!last) throw new NotIpp('a member without a name')
    members.push({ ...last, tag: tagName(tag), values: [...last.values, value] })
  }
}

function plainValue(tag: number, read: Read, length: number): Value {
  if (isOutOfBand(tag)) return null
  switch (tag) {
    case TAGS.integer:
    case TAGS.enum:
      return read.i32()
    case TAGS.boolean:
      return read.u8() !== 0
    case TAGS.resolution:
      return { cross: read.i32(), feed: read.i32(), unit: read.u8() === DPCM ? 'dpcm' : 'dpi' }
    case TAGS.range:
      return { from: read.i32(), to: read.i32() }
    case WITH_LANGUAGE[0]:
    case WITH_LANGUAGE[1]:
      read.text(read.u16())
      return read.text(read.u16())
    default:
      return tag < 0x40 ? read.bytes(length) : read.text(length)
  }
}

function reader(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const text = new TextDecoder()
  let at = 0
  const step = (count: number): number => {
    if (at + count > bytes.length) throw new NotIpp('it ends too early')
    at += count
    return at - count
  }
  const slice = (count: number) => {
    const from = step(count)
    return bytes.subarray(from, from + count)
  }
  return {
    at: () => at,
    u8: () => view.getUint8(step(1)),
    u16: () => view.getUint16(step(2)),
    u32: () => view.getUint32(step(4)),
    i32: () => view.getInt32(step(4)),
    bytes: slice,
    text: (count: number) => text.decode(slice(count)),
    /** On to the end of a value, whatever of it was read. */
    to(end: number) {
      if (end < at || end > bytes.length) throw new NotIpp('a value longer than it says')
      at = end
    },
    rest: () => bytes.subarray(at),
  }
}

/** All values of an attribute in the groups of a name; empty where it is missing. */
export const valuesOf = (message: IppMessage, group: GroupName, name: string): readonly Value[] =>
  message.groups
    .filter((one) => one.group === group)
    .flatMap((one) => one.attributes.filter((found) => found.name === name))
    .flatMap((found) => found.values)

export const textsIn = (message: IppMessage, group: GroupName, name: string): string[] =>
  valuesOf(message, group, name).filter((value) => typeof value === 'string')

export const numberIn = (message: IppMessage, group: GroupName, name: string): number | null =>
  valuesOf(message, group, name).find((value) => typeof value === 'number') ?? null
