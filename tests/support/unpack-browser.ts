import { browserPath } from "./browser.js";

/** Unpacks the browser once, before test files that run side by side would each begin to. */
export default async function unpackBrowser(): Promise<void> {
  await browserPath();
}
