import { writeCount } from '../calendar/wording'
import type { DayTask } from './task'

/** A morning mail as plain words and as HTML; both say the same. */
export function writeDayMail(sheet: {
  workspaceName: string
  day: string
  tasks: readonly DayTask[]
  sheetAddress: string
  settingAddress: string
}): { subject: string; text: string; html: string } {
  const { workspaceName, day, tasks, sheetAddress, settingAddress } = sheet
  const pressing = tasks.filter(({ state }) => state === 'late' || state === 'due').length
  const subject =
    pressing > 0
      ? `${writeCount(pressing, 'thing')} to do at ${workspaceName}, ${day}`
      : `Nothing presses at ${workspaceName}, ${day}`
  const say = (task: DayTask) => [STATE_WORDS[task.state], task.title].filter(Boolean).join(': ')
  const name = (task: DayTask) => (task.scientificName ? `${task.scientificName}, ` : '')
  const none =
    'No siblings have to be parted, no egg case is in its window, and nobody needs to be left alone.'
  const body = tasks.map((task) => `${say(task)}\n  ${name(task)}${task.why}`).join('\n\n')
  const stop = 'You get this because you asked for it. Another hour, or no more of it:'
  const text = `${day}\n\n${tasks.length > 0 ? body : none}\n\nThe day sheet: ${sheetAddress}\n\n${stop}\n${settingAddress}\n`
  const items = tasks
    .map(
      (task) =>
        `<li style="margin:0 0 12px"><strong>${escapeHtml(say(task))}</strong><br>${
          task.scientificName ? `<em>${escapeHtml(task.scientificName)}</em>, ` : ''
        }${escapeHtml(task.why)}</li>`,
    )
    .join('')
  const list =
    tasks.length > 0 ? `<ul style="padding:0 0 0 20px;margin:0 0 16px">${items}</ul>` : `<p>${none}</p>`
  const html = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(subject)}</title></head><body style="font:16px/1.45 Georgia,serif;color:#1d1b16;max-width:40em;margin:0 auto;padding:16px"><h1 style="font-size:20px">${escapeHtml(day)}</h1>${list}<p><a href="${escapeHtml(sheetAddress)}">Open the day sheet</a></p><p style="color:#5c574c;font-size:14px">${stop.replace(/:$/, '')}: <a href="${escapeHtml(settingAddress)}">change it here</a>.</p></body></html>`
  return { subject, text, html }
}

const STATE_WORDS: Record<DayTask['state'], string> = {
  late: 'Late',
  due: 'Due',
  'leave-alone': '',
  fine: '',
}

function escapeHtml(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
}
