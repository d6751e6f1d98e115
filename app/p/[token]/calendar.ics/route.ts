import { loadPublicCalendar } from '@/lib/features/public-link/loaders'

type Context = { params: Promise<{ token: string }> }

/** The coming weeks of a public page, to be taken into somebody's own calendar. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { token } = await params
  const language = new URL(request.url).searchParams.get('language') ?? undefined
  return new Response(await loadPublicCalendar(token, language), {
    headers: {
      'content-type': 'text/calendar; charset=utf-8',
      'content-disposition': 'attachment; filename="weeks.ics"',
      'cache-control': 'private, no-store',
    },
  })
}
