export { describeFreshness, type Freshness, freshnessOf, MAX_DATA_AGE_DAYS } from "./model/freshness.js";
export { type PageData, pageDataOf } from "./model/page-data.js";
export { renderPage } from "./page.js";
