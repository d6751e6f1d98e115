/**
 * Opens the print dialogue for a PDF of this site without anything being saved or opened first: it is loaded into a
 * frame nobody sees. Where the browser shows no PDF inside a page it is opened in a window of its own instead.
 */
export function printFile(address: string): void {
  if (!navigator.pdfViewerEnabled) {
    window.open(address, '_blank', 'noopener')
    return
  }
  document.getElementById(FRAME_ID)?.remove()
  const frame = document.createElement('iframe')
  frame.id = FRAME_ID
  frame.title = 'What is being printed'
  frame.setAttribute('aria-hidden', 'true')
  // Not `display: none`: what is not laid out prints as an empty page in some browsers.
  frame.style.cssText = 'position:fixed;right:0;bottom:0;width:1px;height:1px;border:0;opacity:0'
  frame.addEventListener('load', () => {
    try {
      frame.contentWindow?.focus()
      frame.contentWindow?.print()
    } catch {
      window.open(address, '_blank', 'noopener')
    }
  })
  frame.src = address
  document.body.append(frame)
}

const FRAME_ID = 'printing-frame'
