import adapter from '@sveltejs/adapter-node';
import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vite';

const api = process.env.API_ORIGIN ?? 'http://127.0.0.1:3000';

// The small parts of a station's pages in two files instead of twenty: on a slow phone each file costs, and packs worse alone.
const STATION_FILES = [
  {
    name: 'basics',
    priority: 2,
    test: /src\/lib\/(components\/(Button|Caution|ErrorSummary|Field|Form|LiveRefresh|SafetySign|Status|Title|When)\.svelte|forms\/(?!keep-draft)|time\.ts|id\.ts)/,
  },
  // What only the gear list, the visitors' page and the second reading show comes with those pages.
  {
    name: 'station',
    priority: 1,
    test: /src\/lib\/(station\/(?!GearList|GearState|TakeBreak|VisitorGear|SecondReading)|components\/safety-meaning\.ts|offline\/away\.svelte\.ts)/,
  },
  // Every page's first file names all files there are: those of the desk in a few, so that a station's first file stays small.
  { name: 'notes', priority: 1, test: /src\/lib\/(components\/(Note|MyNotes|KeepDraft|Hurt|note-words)|forms\/keep-draft)/ },
  { name: 'studio', priority: 0, test: /src\/lib\/studio\// },
  { name: 'class', priority: 0, test: /src\/lib\/components\/class\// },
];

export default defineConfig({
  plugins: [
    sveltekit({
      adapter: adapter(),
      // Kit adds a nonce to its own scripts, and a hash on the one page that is a file. Inline style attributes are allowed because Kit's route announcer is hidden by one.
      csp: {
        mode: 'auto',
        directives: {
          'default-src': ['self'],
          'script-src': ['self'],
          'style-src': ['self'],
          'style-src-attr': ['unsafe-inline'],
          'img-src': ['self', 'data:'],
          'font-src': ['self'],
          'connect-src': ['self'],
          'object-src': ['none'],
          'base-uri': ['none'],
          'form-action': ['self'],
          'frame-ancestors': ['none'],
        },
      },
      // An open station must never reload itself in the middle of a weighing: nothing reads `updated`, so no polling either.
      version: { pollInterval: 0 },
      // Station pages register it themselves, for station addresses only.
      serviceWorker: { register: false },
      // The page that works without network is a file; nothing is looked for through its links.
      prerender: { crawl: false },
    }),
  ],
  environments: { client: { build: { rolldownOptions: { output: { codeSplitting: { groups: STATION_FILES } } } } } },
  // The workspace packages are TypeScript; Node strips no types under node_modules, where an image build copies them.
  ssr: { noExternal: [/^@ashwater\//] },
  server: { proxy: { '/api': { target: api, xfwd: true } } },
});
