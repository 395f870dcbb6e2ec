/** Words for finding any job, in both languages: fetched with the page of jobs. */
export const en = {
  find: 'Find a job: plate, vehicle, color, panel, number, week 48',
  clear: 'Clear',
  found: (n: number, isMore: boolean) =>
    isMore ? `The last ${n} are shown.` : n === 1 ? '1 job' : `${n} jobs`,
  moreFound: 'SHOW MORE',
  nothingFound: (typed: string) =>
    `No job has “${typed}”. Try fewer letters, or a week (week 48), a month (2026-11) or a day (2026-11-28).`,
  foundHere: 'The server cannot be reached: only the jobs on this kiosk are looked through.',
  behind: (entries: number) =>
    `Older jobs are still being read (${entries} entries to go): look again in a moment.`,
  foundLater: 'Found later',
  foundSinceClosed: (n: number) =>
    `${n === 1 ? '1 broken limit' : `${n} broken limits`} found since it was closed`,
  foundSinceTold: (n: number) =>
    `${n === 1 ? '1 broken limit' : `${n} broken limits`} found by what was told late`,
  decideFound: 'SEE AND DECIDE',
  openSince: (date: string) => `open since ${date}`,
  openFromTo: (from: string, to: string) => `${from} to ${to}`,
}

export const es: typeof en = {
  find: 'Buscar un trabajo: placas, vehículo, color, panel, número, semana 48',
  clear: 'Borrar',
  found: (n, isMore) =>
    isMore ? `Se muestran los últimos ${n}.` : n === 1 ? '1 trabajo' : `${n} trabajos`,
  moreFound: 'VER MÁS',
  nothingFound: (typed) =>
    `Ningún trabajo tiene «${typed}». Pruebe con menos letras, o con una semana (semana 48), un mes (2026-11) o un día (2026-11-28).`,
  foundHere: 'No se puede llegar al servidor: solo se buscan los trabajos de esta terminal.',
  behind: (entries) =>
    `Aún se leen trabajos anteriores (faltan ${entries} entradas): busque otra vez en un momento.`,
  foundLater: 'Hallado después',
  foundSinceClosed: (n) =>
    n === 1
      ? '1 límite rebasado hallado desde que se cerró'
      : `${n} límites rebasados hallados desde que se cerró`,
  foundSinceTold: (n) =>
    n === 1
      ? '1 límite rebasado hallado por lo que se anotó tarde'
      : `${n} límites rebasados hallados por lo que se anotó tarde`,
  decideFound: 'VER Y DECIDIR',
  openSince: (date) => `abierto desde ${date}`,
  openFromTo: (from, to) => `${from} a ${to}`,
}
