import { createServer } from 'node:net'

export type Letter = { to: string; data: string }

/** What happens on the way: before a letter is taken, when all of it is here, and when it has been said to be kept. */
export type MailMoment = 'begun' | 'here' | 'kept'
type Work = (address: string, letters: Letter[]) => Promise<void>

/** A mail server of a few lines: takes everything and keeps it, and tells of each moment before it answers. */
export async function withMailServer(
  work: Work,
  tell: (moment: MailMoment) => void = () => {},
): Promise<void> {
  const letters: Letter[] = []
  const server = createServer((socket) => {
    let isData = false
    let letter: Letter = { to: '', data: '' }
    let rest = ''
    socket.write('220 here\r\n')
    socket.on('error', () => socket.destroy())
    socket.on('data', (chunk) => {
      const lines = (rest + chunk.toString()).split('\r\n')
      rest = lines.pop() ?? ''
      for (const line of lines) {
        if (isData && line !== '.') letter.data += `${line}\n`
        else if (isData) {
          isData = false
          letters.push(letter)
          letter = { to: '', data: '' }
          tell('here')
          socket.write('250 kept\r\n', () => tell('kept'))
        } else if (/^DATA/i.test(line)) {
          isData = true
          tell('begun')
          socket.write('354 go on\r\n')
        } else {
          if (/^RCPT TO/i.test(line)) letter.to = line.replace(/.*<(.*)>.*/, '$1')
          socket.write(/^QUIT/i.test(line) ? '221 bye\r\n' : '250 well\r\n')
        }
      }
    })
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const address = server.address()
  try {
    await work(`smtp://127.0.0.1:${typeof address === 'object' ? address?.port : 0}`, letters)
  } finally {
    await new Promise((resolve) => server.close(resolve))
  }
}
