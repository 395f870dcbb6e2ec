import { es as inSpanish } from './help.es.ts'
import type { HelpWords } from './helpWords.ts'

/** Help in plain words for every screen, and a short tour of the Wall. */

export const en: HelpWords = {
  help: 'Help',
  back: 'Back',
  tour: 'TOUR OF THE WALL',
  skip: 'SKIP THE TOUR',
  next: 'NEXT',
  done: 'TO THE WALL',
  stepOf: (n, of) => `${n} of ${of}`,
  maker: 'The maker’s sheet, the safety sheet and the law come first, always.',
  pages: {
    wall: {
      title: 'The Wall',
      lines: [
        'Each line is one panel. The large word or time says what it waits for.',
        'Touch a line to press what you do: START, FINISH, MATTE, ABRADED, START BAKE.',
        'A countdown is a wait. When it is over, a bell calls you to look and to press START.',
        'Below are the cups with the pot life that is left. A cup past its life is emptied, never sealed.',
        'Pressed the wrong key? UNDO stands below for ten seconds.',
      ],
    },
    bench: {
      title: 'The Bench',
      lines: [
        'Choose the product and the job, then how much, then pour by the scale.',
        'IT SHOWS takes the weight that the screen asks for. Type another one when the scale shows another.',
        'Poured too much? The rest is worked out again, so that the ratio stays right.',
        'MIXED starts the pot life, from when the activator went in.',
        'Put the label on the cup and say so, or write it by hand.',
      ],
    },
    jobs: {
      title: 'Jobs',
      lines: [
        'Open a job for each vehicle. Choose its panels on the drawing or by name.',
        'Each panel has a route: the steps from prep to polish. Change it before it begins.',
        'Touch a panel to send it back, skip a step with a reason, or move it.',
        'History shows what was done, when, by whom, with which cup and in which air.',
        'Close the day says what must not stay overnight.',
      ],
    },
    scan: {
      title: 'Scan',
      lines: [
        'Scan or type the label of a cup or a panel, from any screen.',
        'A cup shows what is left of its life, its ratio, and the coat that it can start.',
        '“Misread, scan again” means that the code was not read whole: nothing was done.',
      ],
    },
    setup: {
      title: 'Setup',
      lines: [
        'Sheets come first: every time is worked out from them. Copy them from the maker’s paper.',
        'Zones are the places where coats are sprayed. Give each the clearance time of its booth.',
        'This kiosk: listen to each bell where you work, and measure the bar with a ruler.',
        'Backup keeps a copy of everything on another disk.',
      ],
    },
    air: {
      title: 'Air',
      lines: [
        'Read the thermometer and the hygrometer where the panel stands, and the surface if you can.',
        'Without a reading the clocks keep to the careful end of the sheet.',
        'A surface close to the dew point gets wet: wait or warm it.',
      ],
    },
    cups: {
      title: 'Cups and guns',
      lines: [
        'Each cup shows what is left of its pot life, and about how much is in it.',
        'Touch a cup to print its label, pour it together, load a gun, correct what is left, or empty it.',
        'A gun with material has a time of its own: rinse or clean it before that ends.',
      ],
    },
    calculator: {
      title: 'Calculator',
      lines: [
        'Choose what you want to know, type what you have, touch CALCULATE.',
        'The answer comes with its formula, its source and a caution.',
        'Nothing here is logged, and no clock changes.',
      ],
    },
    trace: {
      title: 'Trace',
      lines: [
        'Choose what is wrong and on which panel. The causes that the record speaks for come first.',
        'The timeline shows coats, cups, guns, air and bells. White: not yet. Hatched: allowed. Solid: sprayed.',
        'Look and test before you strip: a record points, it never proves.',
      ],
    },
    codes: {
      title: 'Codes, tags, pedal',
      lines: [
        'Print the codes and hang them by the booth. Print tags for panels, guns, people and shelves.',
        'A panel tag and a cup label, scanned in either order, start a coat. COAT END ends it.',
        'SET KEY makes a foot pedal do the next step of a panel.',
      ],
    },
    unsent: {
      title: 'Not sent yet',
      lines: [
        'What you press while the server is away waits here, and is sent by itself, in order.',
        'It counts on this screen already: clocks and bells go by it.',
        'What the server refused stays here until you try it again or discard it.',
      ],
    },
    booth: {
      title: 'The Booth view',
      lines: [
        'The times that matter now, in digits that are read through the window of the booth.',
        'Take no phone and no scanner into the booth while spraying: end the coat at the kiosk outside.',
        'A cup past its pot life fills the screen until somebody says what became of it.',
      ],
    },
  },
  steps: [
    {
      title: 'A line is a panel',
      lines: ['On the left its name and job. Next to it, large, what it waits for.'],
    },
    {
      title: 'The strip is time',
      lines: ['The upright line is now. Left of it what was done, right of it what comes.'],
    },
    {
      title: 'Touch a line to act',
      lines: [
        'The largest key is what comes next. If it is too early, it says why and for how long.',
      ],
    },
    {
      title: 'Bells',
      lines: [
        'A triangle: ready for a coat. An octagon: pot life over. OK says that you heard it.',
      ],
    },
    {
      title: 'Below: cups and what comes next',
      lines: ['A ring is the pot life that is left. Mix a cup from there.'],
    },
  ],
}

export const es = inSpanish
