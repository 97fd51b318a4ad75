using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;

namespace Washwear.Api.Mqtt;

/// <summary>Whom to believe to be the broker.</summary>
internal static class MqttTrust
{
    /// <summary>Sets up the encryption of a connection.</summary>
    /// <param name="tls">Where to.</param>
    /// <param name="options">The options.</param>
    /// <exception cref="SettingException">The file of certificates cannot be read.</exception>
    public static void Use(MqttClientTlsOptionsBuilder tls, MqttOptions options)
    {
        tls.UseTls().WithTargetHost(options.Host);
        if (options.CaFile is { } file)
        {
            X509Certificate2Collection trusted = Read(file);
            tls.WithCertificateValidationHandler(shown => IsFrom(trusted, shown));
        }
    }

    private static X509Certificate2Collection Read(string file)
    {
        var trusted = new X509Certificate2Collection();
        try
        {
            trusted.ImportFromPemFile(file);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or CryptographicException)
        {
            throw new SettingException($"Setting mqtt_ca_file: {Path.GetFullPath(file)} cannot be read: {error.Message}");
        }

        return trusted.Count > 0
            ? trusted
            : throw new SettingException($"Setting mqtt_ca_file: {Path.GetFullPath(file)} holds no certificate in PEM form.");
    }

    // Name and date are checked as ever; only the roots are others than the machine's. Private authorities rarely publish revocations.
    private static bool IsFrom(X509Certificate2Collection trusted, MqttClientCertificateValidationEventArgs shown)
    {
        const SslPolicyErrors NotOfTheRoot = SslPolicyErrors.RemoteCertificateNameMismatch | SslPolicyErrors.RemoteCertificateNotAvailable;
        if ((shown.SslPolicyErrors & NotOfTheRoot) != 0)
        {
            return false;
        }

        using var certificate = new X509Certificate2(shown.Certificate);
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.AddRange(trusted);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        if (shown.Chain is { } sent)
        {
            chain.ChainPolicy.ExtraStore.AddRange(sent.ChainElements.Select(element => element.Certificate).ToArray());
        }

        return chain.Build(certificate);
    }
}
