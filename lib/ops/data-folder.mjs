// The one folder that holds everything this installation keeps: the database, its secrets, its backups.
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { sharedFolder } from './database/native.mjs'
import { choosePostgresUser, findBlockingFolder, isRoot } from './database/postgres-user.mjs'
import { projectFolder } from './place.mjs'
import { Refusal, say } from './say.mjs'

const MARK = 'oothecary.json'
const FORMAT = 1

export const clusterFolderOf = (dataFolder) => path.join(dataFolder, 'postgres')
export const runningFileOf = (dataFolder) => path.join(dataFolder, 'running.json')

/** Below root's home the default cannot be reached by whoever runs Postgres, so it stands elsewhere. */
const movedDefault = () =>
  path.join(sharedFolder, `data-${createHash('sha256').update(projectFolder).digest('hex').slice(0, 12)}`)

/** Where the data are: as chosen, or the default, moved when root's Postgres could not reach it. */
export function findDataFolder({ dataFolder, isDataFolderChosen, databaseUrl }, { isTold = false } = {}) {
  if (databaseUrl || !isRoot()) return dataFolder
  const hasCluster = fs.existsSync(clusterFolderOf(dataFolder))
  const user = choosePostgresUser(clusterFolderOf(dataFolder))
  const blocking = findBlockingFolder(user, dataFolder)
  if (isDataFolderChosen || hasCluster) {
    if (blocking) throw unreachable(user, blocking)
    return dataFolder
  }
  if (!blocking && !fs.existsSync(movedDefault())) return dataFolder
  const why = blocking
    ? `"${user.name}" runs PostgreSQL and cannot enter ${blocking}`
    : 'they were begun there'
  if (isTold) say(`  The data are in ${movedDefault()}: ${why}.`)
  return movedDefault()
}

const unreachable = (user, blocking) =>
  new Refusal(
    `PostgreSQL runs as "${user.name}" here (it refuses to run as root), and that user cannot enter ${blocking}. Choose a DATA_DIR outside of it, or open it with: chmod o+x ${blocking}`,
  )

function readMark(folder) {
  const file = path.join(folder, MARK)
  return fs.existsSync(file) ? JSON.parse(fs.readFileSync(file, 'utf8')) : null
}

const isEmpty = (folder) => fs.readdirSync(folder).every((name) => name === 'lost+found')

/** Makes the folder ours, or refuses when it is somebody else's. */
export function claimDataFolder(folder) {
  makeFolder(folder)
  const mark = readMark(folder)
  if (mark && mark.format !== FORMAT) {
    throw new Refusal(
      `${folder} was made by another version of Oothecary (format ${mark.format}, this one writes ${FORMAT}).`,
    )
  }
  if (mark) return
  if (!isEmpty(folder)) {
    throw new Refusal(
      `${folder} is not empty and was not made by Oothecary. Nothing in it was touched; set DATA_DIR to an empty folder.`,
    )
  }
  writeFact(folder, {})
}

function makeFolder(folder) {
  try {
    fs.mkdirSync(folder, { recursive: true, mode: isRoot() ? 0o711 : 0o700 })
  } catch (error) {
    if (error.code !== 'EEXIST' && error.code !== 'ENOTDIR') throw error
    throw new Refusal(
      `The data folder ${folder} cannot be made: something on the way is a file, not a folder.`,
    )
  }
  fs.accessSync(folder, fs.constants.W_OK | fs.constants.X_OK)
}

/** What has to be remembered about these data from one start to the next. */
export const readFacts = (folder) => readMark(folder) ?? {}

export function writeFact(folder, fact) {
  const whole = { product: 'oothecary', format: FORMAT, ...readMark(folder), ...fact }
  const draft = path.join(folder, `${MARK}.draft`)
  fs.writeFileSync(draft, `${JSON.stringify(whole, null, 2)}\n`)
  fs.renameSync(draft, path.join(folder, MARK))
}

/** A database that runs out of room in the middle of a day is worse than one that does not start. */
export function checkFreeSpace(folder, neededBytes) {
  const { bavail, bsize } = fs.statfsSync(folder)
  const free = bavail * bsize
  if (free >= neededBytes) return
  const megabytes = (bytes) => Math.floor(bytes / 1024 / 1024)
  throw new Refusal(
    `The disk with ${folder} is full: ${megabytes(free)} MB are free, ${megabytes(neededBytes)} MB are needed. Free some space and run it again; nothing was changed.`,
  )
}
