import type { RequestEvent } from '@sveltejs/kit';

type Caller = Pick<RequestEvent, 'cookies' | 'url'>;
const NAME = 'cabinet_scale_step';
const A_YEAR = 365 * 86_400;

/** The step of the scale used last at the cabinet, as it was typed; blank before the first time. */
export const rememberedStep = ({ cookies }: Caller): string => cookies.get(NAME) ?? '';

export function rememberStep({ cookies, url }: Caller, step: string): void {
  cookies.set(NAME, step.slice(0, 40), { path: '/studio', maxAge: A_YEAR, httpOnly: true, sameSite: 'lax', secure: url.protocol === 'https:' });
}
