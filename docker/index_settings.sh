# Sourced by the image's build steps: pip's settings and certificate authority, where the machine mounts them, made known to uv as well.
if [ -s /run/secrets/ca ]; then
    export PIP_CERT=/run/secrets/ca SSL_CERT_FILE=/run/secrets/ca
fi
if [ -s /etc/pip.conf ]; then
    index=$(sed -n 's/^ *index-url *= *//p' /etc/pip.conf)
    if [ -n "$index" ]; then
        export UV_DEFAULT_INDEX="$index"
    fi
fi
