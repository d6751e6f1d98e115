// Where the project stands on this machine.
import path from 'node:path'
import { fileURLToPath } from 'node:url'

export const projectFolder = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..')

export const inProject = (...parts) => path.join(projectFolder, ...parts)
