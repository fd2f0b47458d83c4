/** One file for everybody, without a name in it: the service worker keeps it, and it fills itself from what the device keeps. */
export const prerender = true;
