import { type Browser, chromium } from "playwright-core";

/**
 * Where the browser is: an installed one named by SILTBOOK_CHROMIUM, or the one that comes with the packages. The
 * second runs on Linux only, and brings the shared libraries and fonts that a bare machine lacks.
 */
export async function browserPath(): Promise<{ executablePath: string; args: string[] }> {
  const own = process.env.SILTBOOK_CHROMIUM;
  if (own !== undefined) return { executablePath: own, args: ["--no-sandbox", "--disable-gpu"] };
  if (process.platform !== "linux" || process.arch !== "x64") {
    throw new Error(
      "set SILTBOOK_CHROMIUM to the path of an installed Chromium to run the browser tests here",
    );
  }
  // The package unpacks its libraries only where it believes that there are none.
  process.env.AWS_LAMBDA_JS_RUNTIME ??= `nodejs${process.versions.node.split(".")[0]}.x`;
  const { default: packaged } = await import("@sparticuz/chromium");
  return { executablePath: await packaged.executablePath(), args: packaged.args };
}

/** Starts a headless browser. Close it when done. */
export async function openBrowser(): Promise<Browser> {
  return chromium.launch({ ...(await browserPath()), headless: true });
}
