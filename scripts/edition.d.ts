/** What service_worker.py puts before service_worker.js. */

/** A file of the site, by its address from the root of it. */
interface KeptFile {
  url: string;
  size: number;
  integrity: string;
  revision: string | null;
  stock?: boolean;
  /** Needed only where the host sends by Brotli, or only where it does not. */
  brotli?: boolean;
}

declare const EDITION: { edition: string; release: string; pages: KeptFile[]; python: KeptFile[] };

declare const workbox: {
  precaching: typeof import("workbox-precaching");
  strategies: typeof import("workbox-strategies");
};
