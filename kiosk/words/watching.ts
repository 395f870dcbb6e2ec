/** Words of Setup's page that says how the shop's record is kept, in both languages: fetched with it. */
export const en = {
  title: 'Watching itself',
  reading: 'Asking the server …',
  away: 'The server does not answer. Check its computer and the network; this page asks again by itself.',
  asOf: (when: string) => `The server does not answer. This is from ${when}.`,
  parts: {
    log: 'Log',
    disk: 'Disk',
    backup: 'Backup',
    clock: 'Clock',
    kiosks: 'Kiosks with sound',
    label: 'Last label',
  },
  log: {
    entries: (n: number, text: string) => (n === 1 ? '1 entry.' : `${text} entries.`),
    good: (when: string) => `All of it was checked ${when}. Nothing is wrong.`,
    never:
      'Not all of it has been checked yet. That happens by itself when nobody has pressed anything for 10 minutes.',
    checked: (when: string) => `Checked ${when}.`,
    running: 'It is being checked now.',
    restore: 'Restore the newest backup on the server’s computer, or dismiss the notice and go on.',
  },
  disk: {
    writable: 'The log can be written to.',
    left: (size: string) => `${size} left.`,
    unknown: 'The server cannot tell how much space is left.',
  },
  backup: {
    none: 'This server makes no backups. A practice shop has nothing to keep.',
    never: 'Never backed up. If this computer’s disk fails, everything recorded is gone.',
    notSet: 'No backups are scheduled any more.',
    first: 'No backup has been made yet.',
    late: 'No backup for more than 2 days.',
    last: (when: string) => `Last backup: ${when}.`,
    where: (path: string) => `It is in ${path}`,
    next: (when: string) => `Next: ${when}.`,
    failed: (when: string) => `The backup of ${when} failed.`,
    running: 'A backup is being made now.',
    sameDisk: 'It is on the disk of the log itself. If that disk fails, both are gone.',
    missing: (n: number) =>
      n === 1
        ? '1 photo is missing on the server and in the backups.'
        : `${n} photos are missing on the server and in the backups.`,
    setUp: 'SET UP BACKUPS',
    look: 'BACKUP',
  },
  clock: {
    agrees: 'The shop’s time is that of the server’s computer.',
    ahead: (length: string) =>
      `The computer’s clock is ${length} ahead of the shop’s time. The shop follows by itself.`,
    behind: (length: string) =>
      `The computer’s clock is ${length} behind the shop’s time. The shop follows by itself.`,
    confirm: 'Confirm the time in the notice at the top of this screen.',
  },
  kiosks: {
    nobody: 'No kiosk has sound: bells are shown, but nobody hears them.',
    touch: 'Touch any key on a kiosk to turn its sound on. Then listen to each bell.',
    noneOpen:
      'No kiosk has reported yet. Each one does within 15 seconds of opening; leave one open in the shop.',
    sounds: (name: string, since: string) => `${name}: sound on since ${since}`,
    silent: (name: string, since: string) => `${name}: no sound since ${since}`,
    unnamed: (id: string) => `Kiosk ${id}`,
    here: (name: string) => `${name} (this kiosk)`,
    listen: 'LISTEN TO EACH BELL',
  },
  label: {
    none: 'No label has been printed or written yet. The Bench offers one for every cup that is mixed: it says until when the cup may be sprayed.',
    last: (cup: string, when: string) => `Cup ${cup}, ${when}.`,
    bench: 'BENCH',
    look: 'SHOW CUP',
  },
}

export const es: typeof en = {
  title: 'Vigilancia propia',
  reading: 'Preguntando al servidor …',
  away: 'El servidor no contesta. Revise su computadora y la red; esta página vuelve a preguntar sola.',
  asOf: (when) => `El servidor no contesta. Esto es del ${when}.`,
  parts: {
    log: 'Registro',
    disk: 'Disco',
    backup: 'Respaldo',
    clock: 'Reloj',
    kiosks: 'Terminales con sonido',
    label: 'Última etiqueta',
  },
  log: {
    entries: (n, text) => (n === 1 ? '1 entrada.' : `${text} entradas.`),
    good: (when) => `Se revisó completo el ${when}. Todo está bien.`,
    never:
      'Todavía no se ha revisado completo. Se hace solo cuando nadie ha tocado nada durante 10 minutos.',
    checked: (when) => `Se revisó el ${when}.`,
    running: 'Se está revisando ahora.',
    restore:
      'Restaure el respaldo más reciente en la computadora del servidor, o descarte el aviso y siga.',
  },
  disk: {
    writable: 'Se puede escribir en el registro.',
    left: (size) => `Quedan ${size}.`,
    unknown: 'El servidor no puede saber cuánto espacio queda.',
  },
  backup: {
    none: 'Este servidor no hace respaldos. Un taller de práctica no tiene nada que guardar.',
    never:
      'Nunca se ha respaldado. Si falla el disco de esa computadora, se pierde todo lo grabado.',
    notSet: 'Ya no hay respaldos programados.',
    first: 'Todavía no hay ningún respaldo.',
    late: 'Más de 2 días sin respaldo.',
    last: (when) => `Último respaldo: ${when}.`,
    where: (path) => `Está en ${path}`,
    next: (when) => `Siguiente: ${when}.`,
    failed: (when) => `Falló el respaldo del ${when}.`,
    running: 'Se está haciendo un respaldo ahora.',
    sameDisk: 'Está en el mismo disco que el registro. Si ese disco falla, se pierden los dos.',
    missing: (n) =>
      n === 1
        ? 'Falta 1 foto en el servidor y en los respaldos.'
        : `Faltan ${n} fotos en el servidor y en los respaldos.`,
    setUp: 'PROGRAMAR RESPALDOS',
    look: 'RESPALDO',
  },
  clock: {
    agrees: 'La hora del taller es la de la computadora del servidor.',
    ahead: (length) =>
      `El reloj de la computadora va ${length} adelantado a la hora del taller. El taller se ajusta solo.`,
    behind: (length) =>
      `El reloj de la computadora va ${length} atrasado a la hora del taller. El taller se ajusta solo.`,
    confirm: 'Confirme la hora en el aviso que está arriba en esta pantalla.',
  },
  kiosks: {
    nobody: 'Ninguna terminal tiene sonido: los timbres se ven, pero nadie los oye.',
    touch:
      'Toque cualquier tecla en una terminal para activar su sonido. Después escuche cada timbre.',
    noneOpen:
      'Ninguna terminal se ha reportado todavía. Cada una lo hace 15 segundos después de abrirse; deje una abierta en el taller.',
    sounds: (name, since) => `${name}: con sonido desde ${since}`,
    silent: (name, since) => `${name}: sin sonido desde ${since}`,
    unnamed: (id) => `Terminal ${id}`,
    here: (name) => `${name} (esta terminal)`,
    listen: 'ESCUCHAR CADA TIMBRE',
  },
  label: {
    none: 'Todavía no se ha impreso ni escrito ninguna etiqueta. Mezcla ofrece una para cada vaso: dice hasta cuándo se puede aplicar.',
    last: (cup, when) => `Vaso ${cup}, ${when}.`,
    bench: 'MEZCLA',
    look: 'VER VASO',
  },
}
