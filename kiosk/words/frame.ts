/** Words of what stands around every screen: bells, the practice shop, the server, what was not sent. */

/** How a bell calls: since when, how far it reached, and why it is quiet. */
export const calling = {
  due: (time: string, length: string) => `due ${time}, ${length} ago`,
  held: (left: string) => `Rang again and again: quiet for ${left}`,
  reach: { zone: 'the whole zone', lead: 'the lead', shop: 'the whole shop' } as Record<
    string,
    string
  >,
  notShown: 'shop closed: in the log only',
}

/** Words of the practice shop: how to enter it, the note that it is one, how to leave it. */
export const practice = {
  offer: 'Try it with an invented shop',
  offerHint: 'It has its own log: nothing from it gets into yours.',
  starting: 'Setting up the practice shop …',
  notStarted: 'The practice shop did not start.',
  here: (speed: number) =>
    `Practice shop. Everything is invented; its clock runs ${speed} times as fast.`,
  hereShort: (speed: number) => `Practice: all invented, clock ×${speed}`,
  again: 'HOLD TO START OVER',
  leave: 'Back to my own shop',
}

/** What the server says of its clock and its log, where something is wrong with them. */
export const server = {
  backup: 'Backup',
  clockTitle: 'Clock not confirmed',
  counts: (time: string) => `The shop counts on from ${time}.`,
  shows: (time: string) => `That computer shows ${time}.`,
  itIs: (time: string) => `IT IS ${time}`,
  other: 'OTHER TIME',
  type: 'Date and time now',
  confirm: 'CONFIRM',
  steps: 'Steps of the clock',
  stepJumped: (at: string, from: string, to: string) => `${at}: went from ${from} to ${to}`,
  stepConfirmed: (at: string, to: string) => `${at}: confirmed as ${to}`,
  gone: (n: number, from: string, to: string) =>
    `The server's log lacks entries that this kiosk knows: ${n === 1 ? '1 entry' : `${n} entries`} from ${from} to ${to}.`,
  save: 'SAVE THEM',
  dismiss: 'DISMISS',
  dismissUnsaved: 'DISMISS WITHOUT SAVING',
  replaced: (head: number) =>
    `The server's log was restored or replaced: it has ${head === 1 ? '1 entry' : `${head} entries`} now.`,
  restore: 'Restore the newest backup, or go on with what is there.',
}

/** A cup, panel or job that was named, and that nobody recorded. */
export const notKnown = {
  cup: (id: string) => `Cup ${id} is not known.`,
  panel: (id: string) => `Panel ${id} is not known.`,
  job: (id: string) => `Job ${id} is not known.`,
  waits: (n: number) => (n === 1 ? '1 record waits for it.' : `${n} records wait for it.`),
  mix: 'MIX',
  voidHold: 'HOLD TO VOID WHAT WAITS',
}

const does: Readonly<Record<string, string>> = {
  SaveSheet: 'Sheet saved',
  ImportSheets: 'Sheets taken from a file',
  RetireSheet: 'Sheet retired',
  SetShopFigure: 'Shop’s figure kept',
  SaveGun: 'Gun saved',
  SaveZone: 'Zone saved',
  ClearZone: 'Zone found clear',
  ChangeSettings: 'Settings changed',
  SaveAirSupply: 'Compressor saved',
  AddPerson: 'Person added',
  RetirePerson: 'Person left',
  TestSound: 'Sound tested',
  CommissionLevel: 'Level commissioned',
  ReportSleep: 'Display may go dark',
  ReportClockJump: "Server's clock changed",
  ConfirmClock: 'Clock confirmed',
  ReadClimate: 'Air read',
  OpenJob: 'Job opened',
  PauseJob: 'Job paused',
  ResumeJob: 'Job resumed',
  CloseJob: 'Job closed',
  ReopenJob: 'Job reopened',
  AddNote: 'Note added',
  AddPhoto: 'Photo added',
  AddPanel: 'Panel added',
  MovePanel: 'Panel moved',
  RemovePanel: 'Panel removed',
  SetRoute: 'Route changed',
  DoPrepStep: 'Step done by hand',
  SkipStep: 'Step skipped',
  StartCoat: 'Coat started',
  ContinueCoat: 'Coat continued from another cup',
  FinishCoat: 'Coat finished',
  InspectCoat: 'Coat inspected',
  ReachCover: 'Covered',
  DenibPanel: 'Denibbed',
  AbradePanel: 'Abraded',
  StartCure: 'Cure started',
  ReadPart: 'Part temperature entered',
  EndCure: 'Cure ended',
  PolishPanel: 'Polished',
  PassPanel: 'Passed',
  SendBackPanel: 'Sent back',
  MixCup: 'Cup mixed',
  PourCup: 'Cup poured',
  PrintLabel: 'Label on the cup',
  EmptyCup: 'Cup emptied',
  LoadGun: 'Gun loaded',
  CleanGun: 'Gun cleaned',
  RinseGun: 'Gun rinsed',
  MoveCup: 'Cup moved',
  SetAirMovers: 'Air movers set',
  SetDayRange: "Day's range set",
  CheckCup: 'Stored mix ready',
  MeasureCup: 'Left in the cup',
  BreakOffCoat: 'Coat broken off',
  ReadFilm: 'Film read',
  RingBell: 'Bell rang',
  AcknowledgeBell: 'Bell acknowledged',
  SnoozeBell: 'Bell snoozed',
  EscalateBell: 'Bell called more people',
  HoldBell: 'Bell held',
  ReportFlood: 'Many bells at once',
  VoidEntry: 'Undone',
}

/** Words for what was pressed here and is not in the log yet. */
export const outbox = {
  away: 'Server away. Clocks and bells keep running; what you press is saved here and sent later.',
  unsent: (n: number) => `${n} not sent`,
  refused: (n: number) => `${n} refused`,
  needUpdate: (n: number) => (n === 1 ? '1 needs a server update' : `${n} need a server update`),
  mark: 'not sent yet',
  title: 'Pressed here, not in the log',
  empty: 'All that was pressed here is in the log.',
  waits: 'Waiting for the server.',
  notTaken: 'Refused.',
  notKnown: 'The server does not know this command yet. Update the server, then press TRY AGAIN.',
  notKnownHint:
    'Commands that the server does not know stay on this device. A file of them can be sent later by whoever runs the server.',
  saveNotKnown: (n: number) => (n === 1 ? 'SAVE IT TO A FILE' : `SAVE ${n} TO A FILE`),
  tryAgain: 'TRY AGAIN',
  discard: 'DISCARD',
  full: 'Not saved: this device cannot store it and the server is away. What you entered is still here; try again.',
  refuses:
    'This device cannot store anything. Presses go straight to the server; without it they are not taken.',
  endsWithPage:
    'This browser stores nothing. What waits to be sent is lost when the page closes: leave it open.',
  does,
}
