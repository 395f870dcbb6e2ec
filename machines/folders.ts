import { bellFolder } from './bell/fold.ts'
import { zoneFolder } from './climate/fold.ts'
import { cupMachine } from './cup/machine.ts'
import { devicesFolder } from './devices/fold.ts'
import { gunMachine } from './gun/machine.ts'
import { jobMachine } from './job/machine.ts'
import { panelMachine } from './panel/machine.ts'
import { asPressed, byPresses, lastPressed } from './panel/spread.ts'
import { personFolder } from './people/fold.ts'
import { machineFolder } from './replay.ts'
import { sheetFolder } from './sheet/fold.ts'
import { airSupplyFolder } from './shop/airSupply.ts'
import { settingsFolder } from './shop/settings.ts'
import type { Folders } from './things.ts'

/** How each kind of thing is folded: the one list to extend. */
export const folders: Folders = {
  settings: settingsFolder,
  sheet: sheetFolder,
  zone: zoneFolder,
  gun: machineFolder(gunMachine),
  air: airSupplyFolder,
  person: personFolder,
  job: machineFolder(jobMachine),
  panel: machineFolder(panelMachine, { arranged: asPressed, last: lastPressed }),
  cup: machineFolder(cupMachine, byPresses),
  bell: bellFolder,
  devices: devicesFolder,
}
