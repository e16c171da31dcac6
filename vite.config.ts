import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/**
 * What the page may do (Content Security Policy Level 3). Nothing may be sent anywhere: the file stays on this machine.
 * Monaco's marks need inline styles; scripts stay strict. A worker that is loaded by address would not be bound by the
 * policy of a page that was opened without headers, while one that starts from a blob inherits it: only blobs may start.
 */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  'worker-src blob:',
  "connect-src 'none'",
  "manifest-src 'self'",
  "form-action 'none'",
  "base-uri 'none'",
  "object-src 'none'",
  "frame-src 'none'",
].join('; ');

/** The policy in the page itself, so that it holds whoever serves the page. */
const policyInPage: Plugin = {
  name: 'policy-in-page',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: () => [
      { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY }, injectTo: 'head-prepend' },
    ],
  },
};

/** The same policy as a header, with the parts that only a header can hold. */
const policyInHeaders: Plugin = {
  name: 'policy-in-headers',
  configurePreviewServer(server) {
    server.middlewares.use((_request, response, next) => {
      response.setHeader('Content-Security-Policy', `${POLICY}; frame-ancestors 'none'`);
      response.setHeader('X-Content-Type-Options', 'nosniff');
      response.setHeader('Referrer-Policy', 'no-referrer');
      response.setHeader('Cross-Origin-Opener-Policy', 'same-origin');
      next();
    });
  },
};

/** Puts every worker, Monaco's too, inside the script that starts it. */
const workersInline: Plugin = {
  name: 'workers-inline',
  enforce: 'pre',
  resolveId(source, importer) {
    return source.endsWith('?worker') ? this.resolve(`${source}&inline`, importer) : null;
  },
};

export default defineConfig({
  base: './',
  plugins: [workersInline, react(), policyInPage, policyInHeaders],
  // A blob worker of the module kind never answers on a page opened from disk.
  worker: { format: 'iife' },
  build: {
    target: 'es2022',
    // The polyfill would fetch, and the policy refuses that.
    modulePreload: { polyfill: false },
    // A module of the core that nothing is used of stays away: the page takes little of it, the worker nearly all.
    rolldownOptions: { treeshake: { moduleSideEffects: (id) => !/\/src\/core\//.test(id) } },
    // Monaco's floor, loaded only when a comparison is opened.
    chunkSizeWarningLimit: 3600,
  },
  test: {
    include: ['test/**/*.test.ts', 'src/**/*.test.ts'],
    environment: 'node',
    testTimeout: 30_000,
    hookTimeout: 60_000,
  },
});
