// The desk's pages work without this file; it adds moving the ball on the drawing and redrawing at once.
import { wireClock } from "./clock.js";
import { wireMap } from "./map.js";
import { wirePlan } from "./plan.js";

wirePlan(document.getElementById("plan"));
wireMap(document.getElementById("map"));
wireClock(document.getElementById("clock"));
