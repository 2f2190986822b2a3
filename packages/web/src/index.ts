// The browser: every screen. Knows the DOM, React, the worker and what the server serves; holds inputs only.
// Never computes a force, words a sentence or formats a number: those come from pipeline and report.
// Nothing imports this room; its real entrance is main.tsx, named by index.html.
export {};
