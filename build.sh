#!/usr/bin/env bash
# Everything that has to hold before a change lands: restore, build, bill of materials, tests, format. Installs the browser if there is none.
set -euo pipefail
cd "$(dirname "$0")"
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 MSBUILDDISABLENODEREUSE=1

tests/Browser/install-chromium.sh
dotnet restore Washwear.slnx --locked-mode
dotnet build Washwear.slnx --configuration Release --no-restore
dotnet tool restore
dotnet tool run dotnet-CycloneDX src/Api/Api.csproj --recursive --disable-package-restore --set-name Washwear -F Json -o artifacts -fn washwear.cdx.json
dotnet test Washwear.slnx --configuration Release --no-build "$@"
dotnet format whitespace Washwear.slnx --verify-no-changes --no-restore
