// The browser comes from an npm package or from the machine; puppeteer must not download one while it installs.
module.exports = { skipDownload: true };
