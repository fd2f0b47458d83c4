import type { Cookies } from '@sveltejs/kit';

type CookieOptions = NonNullable<Parameters<Cookies['set']>[2]>;

function option(options: CookieOptions, name: string, value: string): void {
  if (name === 'path') options.path = value;
  else if (name === 'domain') options.domain = value;
  else if (name === 'max-age') options.maxAge = Number(value);
  else if (name === 'expires') options.expires = new Date(value);
  else if (name === 'samesite') options.sameSite = value.toLowerCase() === 'strict' ? 'strict' : value.toLowerCase() === 'none' ? 'none' : 'lax';
  else if (name === 'httponly') options.httpOnly = true;
  else if (name === 'secure') options.secure = true;
}

/** Hands the API's Set-Cookie headers on to the browser, unchanged: Kit does not do it for an internal call. */
export function copySetCookies(response: Response, cookies: Cookies): void {
  for (const line of response.headers.getSetCookie()) {
    const [pair = '', ...attributes] = line.split(';');
    const equals = pair.indexOf('=');
    if (equals < 1) continue;
    const options: CookieOptions = { path: '/', httpOnly: false, secure: false, encode: (value) => value };
    for (const attribute of attributes) {
      const [name = '', ...rest] = attribute.split('=');
      option(options, name.trim().toLowerCase(), rest.join('=').trim());
    }
    cookies.set(pair.slice(0, equals).trim(), pair.slice(equals + 1).trim(), options);
  }
}
