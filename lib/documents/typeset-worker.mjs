import { parentPort } from 'node:worker_threads'
import { typeset } from './typeset.mjs'

parentPort?.on('message', ({ number, request }) => {
  try {
    const bytes = typeset(request)
    parentPort?.postMessage({ number, bytes }, [bytes.buffer])
  } catch (error) {
    parentPort?.postMessage({ number, failure: error instanceof Error ? error.message : String(error) })
  }
})
