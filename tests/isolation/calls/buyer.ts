export const BUYER = {
  name: 'Anyone',
  email: '',
  phone: '',
  address: '',
  country: 'NL',
  language: 'nl',
  experience: 'beginner',
  note: '',
  keepConsent: true,
  newsConsent: false,
} as const
