// The process that sets type for the one that started it, and ends with it.
import process from 'node:process'
import { typeset } from './typeset.mjs'

process.on('disconnect', () => process.exit(0))
process.on('message', ({ number, request }) => {
  try {
    process.send({ number, bytes: typeset(request) })
  } catch (error) {
    process.send({ number, failure: error instanceof Error ? error.message : String(error) })
  }
})
