import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

const SQUEEZED = /\.(js|css|html|json|svg|webmanifest)$/;

/** Lays a .gz beside every text file, so that whatever serves the folder has nothing to compress. */
function squeezed() {
  let folder = 'dist';
  return {
    name: 'squeezed',
    apply: 'build',
    configResolved(config) {
      folder = config.build.outDir;
    },
    closeBundle: {
      // After the service worker has been written.
      order: 'post',
      sequential: true,
      handler() {
        for (const name of readdirSync(folder, { recursive: true })) {
          const file = join(folder, name);
          if (SQUEEZED.test(file) && statSync(file).isFile()) {
            writeFileSync(`${file}.gz`, gzipSync(readFileSync(file), { level: 9 }));
          }
        }
      },
    },
  };
}

/** What only those need who hold a phone, or who pack or manage: kept there once it was needed, not with a first visit. */
const LATE = /\/later_(members|office)-/;
/** Catalogues: of each language, those of all and those of the office. A phone keeps the languages that it was used in. */
const WORDS = /\/(office_)?[a-z]{2}-[^/]+\.json$/;
const marked = (one) => ({ ...one, ...(LATE.test(one.url) && { late: one.url.match(LATE)[1] }), ...(WORDS.test(one.url) && { words: true }) });

/** Few files weigh less than many: each group takes what it imports, as far as no group before it has. */
const GROUPS = [
  { name: 'start', priority: 3, test: /\/src\/main\.jsx$/ },
  { name: 'pieces', priority: 2, test: /\/src\/(print|parts\/(act|asked|cost|fact|holder_line|print_buttons|qr))\.jsx?$/ },
  { name: 'reckon', priority: 2, test: /\/src\/reckon\// },
  { name: 'later_lots', priority: 1, test: /\/src\/screens\/later_lots\.js$/ },
  { name: 'later_members', priority: 0.5, test: /\/src\/screens\/later_members\.js$/ },
];

const shell = VitePWA({
  // A new version waits until the person agrees (src/version.js asks).
  registerType: 'prompt',
  injectRegister: false,
  includeManifestIcons: false,
  manifest: {
    name: 'Carton Hour',
    short_name: 'Carton Hour',
    description: 'Which departure keeps the fish hard, until what hour, and what a kilogram costs there.',
    lang: 'en',
    id: '/',
    start_url: '/',
    display: 'standalone',
    // A long press on the icon; words of a manifest come in one language only.
    shortcuts: [
      { name: 'Departures', url: '/' },
      { name: 'Offer fish', url: '/lots/new' },
      { name: 'Shared cartons', url: '/parcels' },
    ].map((one) => ({ ...one, icons: [{ src: '/icon-192.png', sizes: '192x192', type: 'image/png' }] })),
    // A message that is shared to the app: a code is taken, a quote opened, anything else kept as the note of a lot.
    share_target: { action: '/shared', method: 'GET', params: { title: 'title', text: 'text', url: 'url' } },
    background_color: '#fffdf6',
    theme_color: '#123c47',
    icons: [
      { src: '/icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: '/icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: '/icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
      { src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' },
    ],
  },
  // Our own worker is a seventh of the weight of the usual one; the plugin writes the list of files into it.
  strategies: 'injectManifest',
  srcDir: 'src',
  filename: 'sw.js',
  injectManifest: {
    // Everything that a build makes: screens that are loaded late and languages that were used open without a signal.
    globPatterns: ['**/*.{js,css,html,json,svg}'],
    manifestTransforms: [(files) => ({ manifest: files.map(marked) })],
  },
});

export default defineConfig({
  plugins: [shell, squeezed()],
  // Of which version these pages are, told with every write.
  define: { __VERSION__: JSON.stringify(JSON.parse(readFileSync(join(import.meta.dirname, 'package.json'), 'utf8')).version) },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  // One small style sheet and no preloading: both cost more bytes than they save here.
  build: {
    target: 'es2022',
    modulePreload: false,
    cssCodeSplit: false,
    assetsInlineLimit: 0,
    rolldownOptions: { output: { codeSplitting: { groups: GROUPS } } },
  },
  test: {
    projects: [
      { extends: true, test: { name: 'screens', include: ['test/*.test.{js,jsx}'], environment: 'jsdom', setupFiles: ['test/setup.js'] } },
      { extends: true, test: { name: 'files', include: ['test/files/*.test.js'], environment: 'node' } },
    ],
  },
});
