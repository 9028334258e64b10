import { render } from "preact";
import type { PageData } from "../model/page-data.js";
import { App } from "./app.js";

/** Draws the page from the data in it. */
export function start(): void {
  const data = JSON.parse(document.getElementById("data")?.textContent ?? "") as PageData;
  const place = document.getElementById("page") as HTMLElement;
  place.replaceChildren();
  render(<App data={data} />, place);
}
