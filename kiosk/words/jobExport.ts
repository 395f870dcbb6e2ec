/** What an exported job says of itself, and the keys that export it: fetched with them. */
export const en = {
  save: 'SAVE THIS JOB',
  saveWhy: 'one page that opens anywhere, also without a network, and says if it was changed',
  saveLines: 'SAVE AS DATA',
  saveLinesWhy: 'one entry a line, for another program (CloudEvents)',
  noServer: 'The server cannot be reached: try again when it is back. Nothing is lost.',
  notMade: 'The job could not be saved. Open Setup, Watching itself: it says what is wrong.',
  title: (job: string) => `Job ${job}`,
  made: (when: string) => `Saved ${when}`,
  whole: (own: number, others: number) =>
    `UNCHANGED. ${own} entries are as they were written (digests of other entries between them: ${others}).`,
  pieces: (n: number) =>
    `They come from ${n} stretches of the log; between these nothing is said of the job.`,
  compare: (position: number, hash: string) =>
    `This does not show a file that somebody built from nothing. To be sure, ask the shop: the hash of its entry ${position} begins with ${hash}.`,
  changed: 'THIS FILE WAS CHANGED AFTER IT WAS SAVED. Do not rely on what it says.',
  changedAt: (position: number) =>
    `Entry ${position}, or one just before it, is not as it was written.`,
  notReadable: 'What it carries cannot be read any more.',
  entries: 'All entries as they were written',
}

export const es: typeof en = {
  save: 'GUARDAR ESTE TRABAJO',
  saveWhy: 'una página que se abre en cualquier lugar, también sin red, y dice si fue alterada',
  saveLines: 'GUARDAR COMO DATOS',
  saveLinesWhy: 'una entrada por línea, para otro programa (CloudEvents)',
  noServer: 'No se puede llegar al servidor: intente de nuevo cuando vuelva. Nada se pierde.',
  notMade: 'No se pudo guardar el trabajo. Abra Ajustes, Vigilancia: dice qué está mal.',
  title: (job) => `Trabajo ${job}`,
  made: (when) => `Guardado ${when}`,
  whole: (own, others) =>
    `SIN CAMBIOS. ${own} entradas están como se escribieron (resúmenes de otras entradas entre ellas: ${others}).`,
  pieces: (n) => `Vienen de ${n} tramos del registro; entre ellos no se dice nada del trabajo.`,
  compare: (position, hash) =>
    `Esto no muestra si alguien hizo el archivo desde cero. Para estar seguro, pregunte al taller: el hash de su entrada ${position} empieza con ${hash}.`,
  changed: 'ESTE ARCHIVO FUE ALTERADO DESPUÉS DE GUARDARSE. No confíe en lo que dice.',
  changedAt: (position) => `La entrada ${position}, o una justo antes, no está como se escribió.`,
  notReadable: 'Lo que contiene ya no se puede leer.',
  entries: 'Todas las entradas como se escribieron',
}
