import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./app.tsx";
import { workerComputer } from "./computing/computer.ts";
import { outcomes } from "./shot/outcomes.ts";
import { ruler } from "./shot/ruler.ts";
import { sha256 } from "./shot/sha256.ts";

const root = document.getElementById("page");
if (root === null) throw new Error("index.html has no element with the id page.");
createRoot(root).render(
  <StrictMode>
    <App outcomes={outcomes(workerComputer(), sha256)} ruler={ruler(requestAnimationFrame)} />
  </StrictMode>,
);
