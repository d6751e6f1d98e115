import { z } from 'zod'

export const PASSWORD_LETTERS = 10

export const newPassword = z
  .string()
  .min(PASSWORD_LETTERS, `At least ${PASSWORD_LETTERS} letters, figures or signs.`)
  .max(200, 'At most 200 letters.')

export const signUpSchema = z.strictObject({
  name: z.string().trim().min(1, 'Give your name.').max(80, 'At most 80 letters.'),
  email: z.email('This is not a mail address.').max(200, 'At most 200 letters.'),
  password: newPassword,
})
export type SignUp = z.output<typeof signUpSchema>

export const endDeviceSchema = z.strictObject({ id: z.uuid() })
