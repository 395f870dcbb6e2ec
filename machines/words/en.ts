import type { StoreFault } from '../contract/damage.ts'
import type { AirLimits, NamedThing, NotDue } from '../refusalParams.ts'
import { coats, colourRules, OPENS, UNDER } from './coats.en.ts'
import { backupSaid, keeping } from './keeping.en.ts'
import { labels } from './labels.en.ts'
import { room } from './room.en.ts'
import { size } from './size.ts'
import type { Figures, Measured, Words } from './types.ts'
import { notVoided } from './undo.en.ts'

const range = ({ values: [from, to], unit }: Measured): string =>
  `from ${from} to ${to}${unit ? ` ${unit}` : ''}`
const upTo = ({ values: [to], unit }: Measured): string => `${to}${unit ? ` ${unit}` : ''}`

const UNITS: Readonly<Record<string, string>> = {
  K: '°C',
  fraction: '(0.55 is 55 %)',
  'L*': '(L*)',
  'a*, b*': '(a* and b*)',
}

const THINGS: Readonly<Record<NamedThing, string>> = {
  job: 'job',
  panel: 'panel',
  sheet: 'sheet',
  person: 'person',
  colour: 'color',
  card: 'card',
  activator: 'activator',
  reducer: 'reducer',
  entry: 'entry',
  command: 'command',
}

const NEXT: Readonly<Record<string, string>> = {
  coatStart: 'start a coat',
  sendBack: 'send it back',
  nothing: 'nothing more to do',
}
const next = (limit: string, { name }: Figures): string =>
  NEXT[limit] ?? limit.split(', ').map(name).join(', ')
const names = (list: string, { name }: Figures): string => list.split(', ').map(name).join(', ')

const airLimits = ({ minC, maxC, maxRh }: AirLimits, f: Figures): string =>
  [
    minC === undefined ? '' : `from ${f.temperature(minC)}`,
    maxC === undefined ? '' : `up to ${f.temperature(maxC)}`,
    maxRh === undefined ? '' : `up to ${f.humidity(maxRh)}`,
  ]
    .filter((part) => part !== '')
    .join(', ')

const NOT_DUE: Readonly<Record<NotDue, string>> = {
  gone: 'Its wait is over or was called off.',
  early: 'It is too early.',
  notRung: 'It has not rung.',
  acknowledged: 'It was acknowledged.',
  notThatFar: 'It is not set to call that many people.',
}

const reasonIs = (reason: StoreFault | null): string =>
  reason === null ? 'The store gave no reason.' : keeping.store[reason]

export const en: Words = {
  unit: (unit) => UNITS[unit] ?? unit,
  body: 'the body',
  wrong: (name, given, use) => {
    if (given === undefined) return `${name ?? 'This'} is missing. Use ${use}.`
    return `${name === null ? '' : `${name}: `}${given} won't work. Use ${use}.`
  },
  tooLarge: (name, use) => `${name ?? 'This'} is too large. Use ${use}.`,
  toGo: (length) => `${length} to go.`,
  labels,
  rules: {
    value: () => 'a value',
    object: ({ fields }) => (fields ? `an object with ${fields.join(', ')}` : 'an object'),
    onlyFields: ({ fields }) => `only these fields: ${fields.join(', ')}`,
    number: ({ min, max, unit }, f) => `a number ${range(f.measured([min, max], unit))}`,
    above0: ({ max, unit }, f) => `a number above 0, up to ${upTo(f.measured([max], unit))}`,
    whole: ({ min, max, unit }, f) => `a whole number ${range(f.measured([min, max], unit))}`,
    utcMs: ({ min, max }) => `UTC milliseconds from ${min} to ${max} (2020 to 2100)`,
    text: ({ max }) => `text of 1 to ${max} characters`,
    plainText: () => 'text without NUL and without broken characters',
    id8: ({ alphabet }) => `eight characters of ${alphabet}`,
    id40: () => '1 to 40 characters of A-Z, a-z, 0-9 and -',
    oneOf: ({ words }) => `one of ${words.join(', ')}`,
    yesNo: () => 'true or false',
    listTooLong: ({ most }) => `at most ${most} commands at once; nothing of this list was decided`,
    list: ({ min, max }) => `a list of ${min} to ${max} items`,
    noneTwice: () => 'a list that names nothing twice',
    sha256: () => 'a SHA-256 in lower-case hex',
    entryOrCommand: () => 'either entry or command',
    timeOfDay: () => 'a time of day such as 07:30',
    timeZone: () => 'an IANA time zone such as Europe/Madrid',
    moreThanFirst: () => 'more seconds than the first',
    notBelowFirst: () => 'no less than the least of it',
    signedOff: ({ aboveDb }) =>
      `true above ${aboveDb} dB(A): only what the site has signed off in writing`,
    points: ({ apartC }) =>
      `one or more points, at least ${apartC} °C apart, all zero minutes or all above zero`,
    potLife: () => 'points above zero minutes, or null for no pot life',
    recoat: () => 'points above zero minutes, "unlimited" or "mustSand"',
    coatsInOrder: () => 'least not above planned, planned not above most',
    somePart: () => 'components of which one has parts above 0',
    noLowerThan: ({ field, atC }, f) =>
      `a temperature no lower than ${field}, ${upTo(f.measured([atC], '°C'))}`,
    nameOnce: ({ list }) => `a name that is not yet in ${list}`,
    volatiles: () => 'all volatiles together, no less than water and exempt solvent',
    stageOfSheet: ({ stage, sheet }) => `"${stage}", the stage of ${sheet}`,
    wholeFace: () => '"whole": clear a blend edge to edge',
    workOfPrep: () => 'work in a step of stage prep alone',
    stageOrSheet: () => 'either stage or sheet',
    wetFilm: () => 'gauge: there is no coat here that could be wet',
    partWhileBaking: () => 'a temperature in °C; none is needed only while the panel bakes',
    beforeFinish: () => 'a time before the finish',
    notAhead: ({ nowMs }, f) => `a time no later than now (${f.utcMs(nowMs)})`,
    notAfterEntry: ({ enteredAtMs }, f) =>
      `a time no later than it was entered (${f.utcMs(enteredAtMs)})`,
    lateReason: ({ minutes }) => `a reason: it happened ${minutes} min before it was entered`,
    lateLead: ({ hours }) =>
      `a lead, who says who is here: it happened more than ${hours} h before it was entered`,
    newestProtocol: ({ protocol }) => `protocol ${protocol} or older`,
    ratio: () => '2:1, 2:1:0.5 or 4:1+10%, with a first part above 0',
    densities: ({ count }) => `${count} densities in g/mL, one for each part of the ratio`,
    weights: ({ most }) => `at most ${most} weights, one for each part`,
    noneOfIt: () => '0: the ratio has none of it',
    scaleStep: ({ mostG }) => `a number above 0, up to ${mostG} g, so that the first part shows`,
    belowCutOut: ({ kPa, hoseDropKpa }, f) =>
      `a pressure below the cut-out${hoseDropKpa ? ' less what the hose takes' : ''}, ${upTo(f.measured([kPa], 'kPa'))}`,
    withinPotLife: ({ minutes }) => `at most the pot life in this air, ${minutes} min`,
    oneFilm: () => 'either wetUm or dryUm, in µm',
    filmAlone: () => 'no dryUm when wetUm is given',
    exemptDensity: () => 'the density of the exempt solvent in g/mL',
    roomForWater: () =>
      'a density at which water and exempt solvent take no more room than the component',
    notAllWater: () => 'at least one component that is not all water and exempt solvent',
    notWithAfter: () => 'none of it with kind notAfter: humidity slows a flash alone',
    ...colourRules,
    json: () => 'JSON',
    utf8: () => 'JSON as UTF-8 text',
    host: ({ names }) => `one of ${names.join(', ')}, with or without a port`,
    depth: ({ most }) => `lists and objects at most ${most} deep`,
    bodySize: ({ bytes }) => `at most ${size(bytes)} (${bytes} bytes)`,
    hasText: () => 'Unicode text, finite numbers, and lists and objects that are not deep',
    picture: () => 'a JPEG, PNG or WebP picture',
    pictureSize: ({ bytes }) => `a picture of at most ${size(bytes)} (${bytes} bytes)`,
    fileName: ({ forms }) => `${forms.join(' or ')}`,
    printerAddress: () => 'an address such as ipp://192.168.1.20/ipp/print',
    fingerprint: () => 'a fingerprint of 32 pairs of hexadecimal digits with colons between them',
    siteAddress: () =>
      'an address such as http://flashbell.lan:4600, of at most 40 characters and with nothing behind the port',
    path: () => "a full path on the server's computer, such as /media/stick/backups",
    longerId: ({ ids }) => `more of one id: ${ids.join(', ')}`,
    label: () => 'the text of a label, or the first characters of an id',
  },
  onlyLead: 'Only a lead may go on, under their own name.',
  refusals: {
    ...coats,
    unknownThing: ({ what, value, limit }) => {
      const thing = `There is no ${THINGS[what]} ${value} here.`
      if (limit === null) return thing
      return limit.length === 0
        ? `${thing} There is none yet.`
        : `${thing} Use one of ${limit.join(', ')}.`
    },
    idTaken: ({ what, value }) => `There is already a ${what} ${value}. Use a new id.`,
    closed: () => 'The job is closed. Reopen it first.',
    coatRunning: () => 'A coat is running. Finish it first.',
    wrongStep: ({ limit }, f) => `Not this step. Next: ${next(limit, f)}.`,
    windowShut: ({ limit, why, opensBy }, { ago }, clearsAt) =>
      why !== undefined
        ? UNDER[why]
        : `The recoat window shut ${ago(limit)} ago.${clearsAt === undefined ? ` ${OPENS[opensBy ?? 'unsaid']}` : ''}`,
    lookFirst: () => 'Look first: the next coat goes on when it is matte.',
    ...room,
    panelUnknown: ({ value }) => `Panel ${value} is not known yet. What was said of it waits.`,
    jobUnknown: ({ value }) => `Job ${value} is not known yet. What was said of it waits.`,
    cupUnknown: ({ value }) => `There is no cup ${value} here. Scan its label, or mix it first.`,
    cupEmptied: ({ limit, value }, { ago }) =>
      limit === null ? `Cup ${value} was emptied.` : `Cup ${value} was emptied ${ago(limit)} ago.`,
    wrongProduct: ({ limit, value, held = 'cup' }, { name }) =>
      `It needs ${name(limit ?? '')}; the ${held} holds ${value}.`,
    wrongColour: ({ limit, value, held = 'cup' }) =>
      `It needs color ${limit}; the ${held} holds ${value}.`,
    inductionNotOver: () => 'The mix is not ready to spray yet.',
    potLifeOver: ({ limit, about }, { ago }) =>
      `The pot life of cup ${about} ended ${ago(limit)} ago.`,
    gunHolds: ({ about, held: { name, colour, isOver } }) =>
      `Gun ${about} holds ${name}${colour === null ? '' : ` in ${colour}`}${isOver ? ' past its pot life' : ''}. Clean it first.`,
    gunEmpty: ({ about }) => `Gun ${about} is empty: nothing can be poured back.`,
    airOutside: ({ limit, value }, f) =>
      `The air is ${f.temperature(value.airC)} and ${f.humidity(value.rh)}; the sheet allows ${airLimits(limit, f)}.`,
    dewPoint: ({ limit, value, why }, { degrees }) =>
      `The ${why === 'air' ? 'air itself' : 'surface'} is ${degrees(value)} above the dew point; it needs at least ${degrees(limit)}.`,
    noPerson: ({ limit }) =>
      limit.length === 0
        ? 'Say who is spraying first.'
        : `Say who is spraying first: ${limit.join(', ')}.`,
    keepOver: ({ limit, about }, { ago }) =>
      `Cup ${about} is ${ago(limit)} past its keep-until date.`,
    tooManyCoats: ({ limit, value }) =>
      `It has ${value} coats of this step; the sheet allows ${limit}.`,
    tooFewCoats: ({ limit, value }) =>
      `It has ${value} coats of this step; it needs at least ${limit}.`,
    nothingThere: () => 'It has no finished coat to look at.',
    noRoom: ({ limit, value, about }, { volume }) =>
      `Cup ${about} holds ${volume(limit)}; you cannot take ${volume(value)} from it.`,
    coatsMissing: ({ limit }, f) => `Coats are missing: ${names(limit, f)}.`,
    noSuchCure: ({ limit, value }, f) =>
      `The sheet gives no ${f.name(value)} cure. ${limit === '' ? 'It gives none.' : `It gives: ${names(limit, f)}.`}`,
    curing: () => 'It is curing already.',
    notCuring: () => 'It is not curing.',
    cureNotOver: () => 'It is not cured yet.',
    stepsLeft: ({ limit }, f) => `Steps are left to do: ${names(limit, f)}.`,
    routeInUse: ({ limit, value }, f) =>
      `Work was done on step ${value + 1}${limit === null ? '' : `, ${f.name(limit)}`}: leave it as it is.`,
    deviationsOpen: ({ limit, value }) =>
      `Nobody has decided about ${value === 1 ? 'a broken limit' : `${value} broken limits`}${limit === '' ? '' : `: ${limit}`}. History, TRACE A DEFECT shows what they are.`,
    panelsOpen: ({ limit }) => `Not every panel has passed: ${limit}.`,
    jobState: ({ limit, value }) => `The job is ${value}; it must be ${limit}.`,
    bellNotDue: ({ limit, value }) => `Bell ${value} is not due. ${NOT_DUE[limit]}`,
    snoozeNotAllowed: ({ limit }) =>
      limit === null
        ? 'This bell was snoozed twice already.'
        : limit === 0
          ? 'This bell cannot be snoozed.'
          : `This bell can be snoozed for ${limit} min at most.`,
    entryInUse: ({ limit }, f) => notVoided(limit, f),
  },
  serverRefusals: {
    commandIdReused: ({ id }) =>
      `Command id ${id} was used for another command. Send that command again, or use a new id.`,
    photoMissing: ({ photo }) =>
      `The picture ${photo.slice(0, 8)} is not here. Send it to /api/photos first, then this command again.`,
    newerLog: () =>
      'The log holds entries of a newer version of this program. Update the server to go on; everything can still be read.',
  },
  server: {
    crossSite: () => "Another site sent this. Use this server's own pages.",
    unknownHost: ({ host, hosts }) =>
      `This server does not answer to the name ${host}. Use ${hosts.join(', ')}.`,
    notFound: ({ what, name }) =>
      what === 'path'
        ? `Nothing is at ${name}.`
        : `There is no ${what === 'label' ? 'label of cup' : what === 'sheet' ? 'product' : what} ${name} here.`,
    wrongMethod: ({ method, allow }) => `${method} won't work here. Use ${allow}.`,
    fault: ({ isNothingRecorded }) =>
      `The server failed by a fault in its program. ${isNothingRecorded ? 'Nothing of this command was recorded. ' : ''}Report it.`,
    notStarted: ({ trouble: { code, params } }, figures) =>
      `The practice shop did not start. ${(keeping.start[code] as (p: object, f: Figures) => string)(params, figures)}`,
    notStored: ({ reason }) => `Nothing was recorded; send it again. ${reasonIs(reason)}`,
    photoNotStored: () => 'The picture could not be written; send it again. Is the disk full?',
    noBackup: ({ trouble }, figures) => backupSaid(trouble, figures),
    noSchedule: () => 'Choose a folder for the backups first.',
    stopping: () => 'The server is stopping.',
    unreadable: ({ reason }) => `The log could not be read. ${reasonIs(reason)}`,
  },
  ...keeping,
  doubts: {
    behindLog: "The clock of the server's computer was behind the last entry when it started.",
    unset: "The clock of the server's computer was not set when it started.",
    longSince: 'The server was started long after the last entry.',
    jumped: "The clock of the server's computer jumped by more than five minutes.",
  },
  health: {
    clock: (shop, computer) =>
      `The shop's time is ${shop}, the computer's clock shows ${computer}. Confirm the time on a kiosk.`,
    log: 'Stop the server and restore the newest backup, or go on and dismiss this on a kiosk.',
    noBackup: 'No backups are set. Set them on a kiosk: Setup, Backup.',
  },
}
